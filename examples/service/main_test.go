package main

import (
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/headspace"
	"github.com/google/go-cmp/cmp"
)

func ask(t *testing.T, method, path, body string) (int, string) {
	t.Helper()
	w := httptest.NewRecorder()
	handler().ServeHTTP(w, httptest.NewRequest(method, path, strings.NewReader(body)))
	text, err := io.ReadAll(w.Result().Body)
	if err != nil {
		t.Fatal(err)
	}
	return w.Code, string(text)
}

func TestAnswers(t *testing.T) {
	code, text := ask(t, "POST", "/water", `{"DoseG": "18.5", "Ratio": 16.20}`)
	if code != 200 || text != `{"DoseG":"18.5","WaterG":"299.7","Ratio":"16.2","Notes":""}`+"\n" {
		t.Errorf("%d %s", code, text)
	}
	var brew brewratio.Brew
	if err := json.Unmarshal([]byte(text), &brew); err != nil || brew.WaterG.String() != "299.7" {
		t.Errorf("the answer does not read back: %v %v", brew, err)
	}

	code, text = ask(t, "POST", "/flushes", `{"StartPct": 20.9, "SupplyPct": 0.1, "FreeML": 600, "FlushML": 800, "TargetPct": 2}`)
	var count headspace.FlushCount
	if err := json.Unmarshal([]byte(text), &count); code != 200 || err != nil || count.Count != 3 || !(count.OxygenPct <= 2) {
		t.Errorf("%d %s: %v", code, text, err)
	}

	if code, text = ask(t, "POST", "/room-moisture", `{"TempC": 18, "RHPct": 57}`); code != 200 || !strings.Contains(text, `"MoisturePct":10.9`) {
		t.Errorf("%d %s", code, text)
	}
	// A note travels as its words.
	if code, text = ask(t, "POST", "/room-moisture", `{"TempC": 25, "RHPct": 85}`); code != 200 || !strings.Contains(text, `"Notes":"curve of drying parchment arabica`) {
		t.Errorf("%d %s", code, text)
	}
}

// Each refusal says which field, what was given and what it takes.
func TestRefusals(t *testing.T) {
	f := func(v float64) *float64 { return &v }
	code, text := ask(t, "POST", "/room-moisture", `{"TempC": 64.4, "RHPct": 0.57}`)
	var got Refusal
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	want := []Field{{Field: "RHPct", Given: "0.57", Min: f(1), Max: f(100), Unit: "%"}}
	if diff := cmp.Diff(want, got.Fields); code != 422 || diff != "" {
		t.Errorf("%d %s", code, diff)
	}

	code, text = ask(t, "POST", "/roast-loss", `{}`)
	got = Refusal{}
	if err := json.Unmarshal([]byte(text), &got); err != nil || code != 422 || len(got.Fields) != 4 {
		t.Errorf("%d %s: %v", code, text, err)
	}

	// No flush goes below the oxygen of its own gas.
	code, text = ask(t, "POST", "/flushes", `{"StartPct": 20.9, "SupplyPct": 3, "FreeML": 600, "FlushML": 800, "TargetPct": 2}`)
	got = Refusal{}
	if err := json.Unmarshal([]byte(text), &got); err != nil || code != 422 || got.None == nil || got.None.Field.Field != "TargetPct" {
		t.Errorf("%d %s: %v", code, text, err)
	}
}

func TestHostile(t *testing.T) {
	for name, c := range map[string]struct {
		method, path, body string
		code               int
	}{
		"no JSON":           {"POST", "/water", `DoseG=18`, 400},
		"misspelt":          {"POST", "/water", `{"DoseGrams": 18, "Ratio": 16}`, 400},
		"words":             {"POST", "/room-moisture", `{"TempC": "warm", "RHPct": 57}`, 400},
		"two objects":       {"POST", "/water", `{"DoseG": 18, "Ratio": 16} {}`, 400},
		"empty":             {"POST", "/water", ``, 422},
		"long":              {"POST", "/water", `{"DoseG": ` + strings.Repeat("1", maxBody) + `}`, 413},
		"large exponent":    {"POST", "/water", `{"DoseG": 1e9999, "Ratio": 16}`, 422},
		"huge exponent":     {"POST", "/water", `{"DoseG": 1e999999999, "Ratio": 16}`, 400},
		"no number":         {"POST", "/room-moisture", `{"TempC": NaN, "RHPct": 57}`, 400},
		"beyond a float":    {"POST", "/room-moisture", `{"TempC": 1e999, "RHPct": 57}`, 400},
		"unknown address":   {"POST", "/roast", `{}`, http.StatusNotFound},
		"the wrong method":  {"GET", "/water", ``, http.StatusMethodNotAllowed},
		"40 digits are not": {"POST", "/water", `{"DoseG": 18.` + strings.Repeat("1", 60) + `, "Ratio": 16}`, 422},
	} {
		if code, text := ask(t, c.method, c.path, c.body); code != c.code {
			t.Errorf("%s: %d %.200s, want %d", name, code, text, c.code)
		}
	}
}
