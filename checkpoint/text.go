package checkpoint

import "example.org/evenlot/internal/words"

// MarshalText writes what String says, so that JSON carries words.
func (w Word) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (w *Word) UnmarshalText(text []byte) error {
	i, err := words.One(text, func(i uint8) string { return Word(i).String() })
	if err == nil {
		*w = Word(i)
	}
	return err
}
