package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"example.org/evenlot/moisture"
)

func TestReport(t *testing.T) {
	f, err := os.Open("store.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := read(f)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := report(&b, rows); err != nil {
		t.Fatal(err)
	}
	// Counted by hand in the file: 198 lines, three with a failed cell, one
	// pause of 19 hours.
	for _, want := range []string{"198, 3 of them", "19 h lost, pauses too long to bridge: 1", "h of it in one stretch", "% moisture: ", "some of the time has no usable reading"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, b.String())
		}
	}
	svg := draw(rows)
	for d := xml.NewDecoder(strings.NewReader(svg)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if strings.Contains(svg, "NaN") || !strings.Contains(svg, "mould risk") {
		t.Errorf("the figure is\n%s", svg)
	}
}

func TestRefused(t *testing.T) {
	head := "time,temp_c,rh_pct\n"
	for name, c := range map[string]struct{ text, want string }{
		"a time that is none": {head + "2026-10-01T00:00Z,18,57\nyesterday,18,57\n", "line 3"},
		"a cell too few":      {head + "2026-10-01T00:00Z,18\n", "line 2"},
		"no head":             {"", "the head"},
	} {
		if _, err := read(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// With seconds and without, here and in another zone.
	same, err := read(strings.NewReader(head + "2026-10-01T01:00:30Z,18,57\n2026-10-01T03:01+02:00,18,57\n"))
	if err != nil || same[1].UnixSeconds-same[0].UnixSeconds != 30 {
		t.Errorf("%v, %v", same, err)
	}
	// Times that run back are refused by the library, with the row.
	rows, err := read(strings.NewReader(head + "2026-10-01T01:00Z,18,57\n2026-10-01T00:00Z,18,57\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := errors.AsType[*moisture.InputError](report(io.Discard, rows)); !ok {
		t.Errorf("times that run back: %v", report(io.Discard, rows))
	}
}
