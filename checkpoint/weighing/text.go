package weighing

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
func (r Rule) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (r *Rule) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Rule(i).String() })
	if err == nil {
		*r = Rule(i)
	}
	return err
}

// MarshalText writes what String says, so that JSON carries words.
func (c WeightClass) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (c *WeightClass) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return WeightClass(i).String() })
	if err == nil {
		*c = WeightClass(i)
	}
	return err
}

// MarshalText writes what String says, so that JSON carries words.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (c *Class) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Class(i).String() })
	if err == nil {
		*c = Class(i)
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
