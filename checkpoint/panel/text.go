package panel

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
func (m Method) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (m *Method) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Method(i).String() })
	if err == nil {
		*m = Method(i)
	}
	return err
}
