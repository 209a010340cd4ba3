package chart

import "example.org/evenlot/internal/words"

// MarshalText writes what String says, so that JSON carries words.
func (r Rules) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (r *Rules) UnmarshalText(text []byte) error {
	set, err := words.Set(text, func(bit uint) string { return Rules(1 << bit).String() })
	if err == nil {
		*r = Rules(set)
	}
	return err
}
