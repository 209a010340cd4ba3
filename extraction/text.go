package extraction

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
