package all

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
)

// FuzzAddress opens any calculator with any address: there is an answer that
// holds, or words on why there is none.
func FuzzAddress(f *testing.F) {
	list := Calculators()
	address := func(s catalogue.State) string {
		q := url.Values{}
		for k, v := range s {
			q.Set(k, v)
		}
		return q.Encode()
	}
	for i, c := range list {
		f.Add(uint8(i), address(c.Example())) // everything reads well
	}
	f.Add(uint8(0), "t=18.0&rh=57&t.unit=%C2%B0F&t.pm=-1&m-min=12&m-max=10")     // limits the wrong way round
	f.Add(uint8(1), "t=1e309&rh=%00&t.unit=kg")                                  // nothing reads
	f.Add(uint8(50), "x=1;2;3%0A%23%0A1e400%09nan&n=-1")                         // a series in error
	f.Add(uint8(70), "roasted=2026-02-30T25:61&cupped=9999-12-31T23:59&lot=%F0") // no such days
	sequence := slices.IndexFunc(list, func(c *catalogue.Calculator) bool { return c.ID == "purge-sequence" })
	f.Add(uint8(sequence), "p=100&q=0&rows=1 0%0A10 0%0A11 1&t=0&v=1&y0=1&yn=1")  // nothing to thin: the share left is 0/0
	f.Add(uint8(90), strings.Repeat("a=1,234&", 40)+"%zz&g=0.000000000000000001") // twice, and badly written
	f.Fuzz(func(t *testing.T, which uint8, query string) {
		if len(query) > 4000 {
			return
		}
		q, _ := url.ParseQuery(query) // what reads of it counts
		s := catalogue.State{}
		for k, v := range q {
			s[k] = v[0]
		}
		c := list[int(which)%len(list)]
		sheet := c.Eval(s, nil)
		if len(sheet.Values) == 0 && sheet.Problem == "" && len(sheet.Faults) == 0 && len(sheet.Missing) == 0 {
			t.Errorf("%s: %q: neither an answer nor a word", c.ID, query)
		}
		if len(sheet.Faults) > 0 && len(sheet.Values) > 0 {
			t.Errorf("%s: %q: an answer in spite of %v", c.ID, query, sheet.Faults)
		}
		check(t, c, sheet)
	})
}
