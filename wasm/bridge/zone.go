//go:build js && wasm

package bridge

import (
	"sync"
	"syscall/js"
	"time"
)

// zone is the browser's time zone with its summer times for some years back
// and ahead, asked of the browser once: the bundle carries no zone tables.
var zone = sync.OnceValue(func() *time.Location {
	date := js.Global().Get("Date")
	offset := func(at int64) int32 { // seconds east of Greenwich
		return int32(-60 * date.New(float64(at)*1000).Call("getTimezoneOffset").Int())
	}
	const day = 86400
	const step = 7 * day // no zone is known to change twice in a week
	now := time.Now().Unix() / day * day
	type change struct {
		at  int64
		off int32
	}
	first := offset(now - 6*365*day)
	changes := []change{{now - 6*365*day, first}}
	for at := now - 6*365*day; at < now+8*365*day; at += step {
		a, b := changes[len(changes)-1].off, offset(at+step)
		if a == b {
			continue
		}
		lo, hi := at, at+step // the change lies after lo and not after hi
		for hi-lo > 1 {
			if m := (lo + hi) / 2; offset(m) == a {
				lo = m
			} else {
				hi = m
			}
		}
		changes = append(changes, change{hi, b})
	}
	// A zone file of the second format, RFC 8536, section 3.
	var kinds []int32
	kind := func(off int32) byte {
		for i, k := range kinds {
			if k == off {
				return byte(i)
			}
		}
		kinds = append(kinds, off)
		return byte(len(kinds) - 1)
	}
	var index []byte
	for _, c := range changes {
		index = append(index, kind(c.off))
	}
	be := func(b []byte, v uint64, n int) []byte {
		for i := n - 1; i >= 0; i-- {
			b = append(b, byte(v>>(8*i)))
		}
		return b
	}
	header := func(times, types, chars int) []byte {
		b := append([]byte("TZif2"), make([]byte, 15)...)
		for _, n := range []int{0, 0, 0, times, types, chars} {
			b = be(b, uint64(n), 4)
		}
		return b
	}
	data := append(header(0, 1, 1), 0, 0, 0, 0, 0, 0, 0) // an empty first-format block
	data = append(data, header(len(changes), len(kinds), 6)...)
	for _, c := range changes {
		data = be(data, uint64(c.at), 8)
	}
	data = append(data, index...)
	for _, k := range kinds {
		data = be(data, uint64(uint32(k)), 4)
		data = append(data, 0, 0)
	}
	data = append(data, "local\x00\n\n"...)
	loc, err := time.LoadLocationFromTZData("local", data)
	if err != nil {
		return time.FixedZone("local", int(offset(now)))
	}
	return loc
})
