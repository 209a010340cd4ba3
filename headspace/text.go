package headspace

import "example.org/evenlot/internal/words"

// MarshalText writes what String says, so that JSON carries words.
func (n Notes) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (n *Notes) UnmarshalText(text []byte) error {
	set, err := words.Set(text, func(bit uint) string { return Notes(1 << bit).String() })
	if err == nil {
		*n = Notes(set)
	}
	return err
}

// MarshalText writes what String says, so that JSON carries words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (v *Verdict) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Verdict(i).String() })
	if err == nil {
		*v = Verdict(i)
	}
	return err
}

// String is the word as shown.
func (f Fan) String() string {
	names := [...]string{"none", "blown in", "drawn out"}
	if int(f) < len(names) {
		return names[f]
	}
	return "none"
}

// MarshalText writes what String says, so that JSON carries words.
func (f Fan) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (f *Fan) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Fan(i).String() })
	if err == nil {
		*f = Fan(i)
	}
	return err
}

// String is the word as shown.
func (k Kind) String() string {
	names := [...]string{"none", "sweep", "fill", "vent"}
	if int(k) < len(names) {
		return names[k]
	}
	return "none"
}

// MarshalText writes what String says, so that JSON carries words.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (k *Kind) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Kind(i).String() })
	if err == nil {
		*k = Kind(i)
	}
	return err
}
