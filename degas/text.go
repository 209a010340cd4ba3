package degas

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

// String is the word as shown.
func (u Use) String() string {
	names := [...]string{"cupping", "packing without a valve", "vacuum packing", "filter", "espresso", "flushed bag", "peak of aroma", "peak of taste"}
	if int(u) < len(names) {
		return names[u]
	}
	return "none"
}

// MarshalText writes what String says, so that JSON carries words.
func (u Use) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (u *Use) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Use(i).String() })
	if err == nil {
		*u = Use(i)
	}
	return err
}
