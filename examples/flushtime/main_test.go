package main

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/headspace"
)

// The time found keeps its promise when it is put back into the model: at
// that time the bound for the stated share meets the limit, and a step less
// would not.
func TestDialIn(t *testing.T) {
	var b bytes.Buffer
	if err := dialIn(&b); err != nil {
		t.Fatal(err)
	}
	_, after, ok := strings.Cut(b.String(), "flush for")
	if !ok {
		t.Fatal(b.String())
	}
	seconds, err := strconv.ParseFloat(strings.Fields(after)[0], 64)
	if err != nil {
		t.Fatal(err)
	}
	free, err := headspace.FreeVolume(headspace.Fill{BagML: bagML, CoffeeG: coffeeG, BeanGPerML: headspace.BeanMediumGPerML})
	if err != nil {
		t.Fatal(err)
	}
	var readings []headspace.Reading
	for _, r := range trial {
		readings = append(readings, headspace.Reading{FreeML: free.FreeML, FlowLPerMin: flowLPerMin, Seconds: r.seconds, OxygenPct: r.oxygenPct})
	}
	fit, err := headspace.FitNozzle(headspace.Trial{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, ResolutionPct: resolutionPc, Readings: readings})
	if err != nil {
		t.Fatal(err)
	}
	bound := func(seconds float64) float64 {
		next, err := headspace.PredictOxygen(fit, headspace.Setting{FreeML: free.FreeML, FlowLPerMin: flowLPerMin, Seconds: seconds, ConfidencePct: 95})
		if err != nil {
			t.Fatal(err)
		}
		// The factor for what the fit is worth lies above that for all readings.
		k, err := sampling.OneSidedFactor(fit.Count, coveragePct, confidencePct)
		if err != nil {
			t.Fatal(err)
		}
		return next.OxygenPct * math.Exp(k*fit.SDLn)
	}
	if at := bound(seconds); !(at <= limitPct) {
		t.Errorf("at %v s the bound is %v %%", seconds, at)
	}
	if early := bound(seconds - 0.4); !(early > limitPct) {
		t.Errorf("0.4 s less would do as well: %v %%", early)
	}
}
