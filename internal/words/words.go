// Package words reads back the words in which sets of notes and kinds print,
// for the UnmarshalText of the types that have them.
package words

import (
	"errors"
	"strconv"
	"strings"
)

// Set reads names joined by "; " into bits; empty is none of them. A name may
// hold such a joint itself: the longest name that fits is taken.
func Set(text []byte, name func(bit uint) string) (uint32, error) {
	set := uint32(0)
	for rest := string(text); rest != ""; {
		best, length := 0, 0
		for bit := range uint(32) {
			n := name(bit)
			after, ok := strings.CutPrefix(rest, n)
			if ok && len(n) > length && (after == "" || len(after) > 2 && after[:2] == "; ") {
				best, length = int(bit), len(n)
			}
		}
		if length == 0 {
			return 0, unknown(rest)
		}
		set |= 1 << best
		rest = strings.TrimPrefix(rest[length:], "; ")
	}
	return set, nil
}

// One reads one name into its number.
func One(text []byte, name func(i uint8) string) (uint8, error) {
	for i := range uint8(64) {
		if name(i) == string(text) {
			return i, nil
		}
	}
	return 0, unknown(string(text))
}

func unknown(text string) error {
	if len(text) > 60 {
		text = text[:60] + "…"
	}
	return errors.New(strconv.Quote(text) + " is none of the known words")
}
