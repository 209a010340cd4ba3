package extraction

import "example.org/evenlot/internal/fault"

// TasteThresholdPct is the difference of strength, % w/w, that a trained panel
// tells: Frost, Ristenpart & Guinard, Journal of Food Science, 2019 (abstract
// opened). A reading that is 0.05 off is not tasted.
const TasteThresholdPct = 0.24

// Window is a target on the map of strength and yield, as a standard draws it.
type Window struct {
	ID              string  // short name, lower case
	Name            string  // whose it is
	StrengthLowPct  float64 // % w/w
	StrengthHighPct float64 // % w/w
	YieldLowPct     float64 // %
	YieldHighPct    float64 // %
	Source          string  // where it is published
	Provenance      string  // opened, quoted, memory or common practice
}

// Windows returns the published targets for filter coffee. They are findings
// of what people liked in the 1950s and later, of filter coffee of that day;
// none of them is a law of taste, and the studies that test them say so.
//
// Source: each entry names its own.
func Windows() []Window {
	return []Window{
		{"filter-2015", "Golden Cup, 2015", 1.15, 1.35, 18, 22,
			"SCAA, Golden Cup Standard, version 23DEC2015; the same box in Batali, Ristenpart & Guinard, Scientific Reports 10:16450, 2020", "opened"},
		{"filter-europe", "European brewing chart", 1.20, 1.45, 18, 22,
			"SCAE brewing chart, as quoted by an open encyclopaedia article; the yields are those of the American chart", "quoted"},
	}
}

// Direction is where a brew goes on the map when one thing is changed.
type Direction struct {
	Change      string  // what is changed
	YieldPct    float64 // where the brew goes, %
	StrengthPct float64 // where the brew goes, % w/w
	Because     string  // what was assumed
}

// Turn is a brew whose next move is asked. The zero Turn is refused.
type Turn struct {
	Method      Method  // how the brewer shares its liquid
	StrengthPct float64 // where the brew is, % w/w
	YieldPct    float64 // where the brew is, %
	PointsPct   float64 // how many points of yield finer or coarser is drawn for: 1
	ChangePct   float64 // by how much water or dose is changed, %: 5
}

// Directions returns where finer, coarser, more water and more dose take a
// brew: finer and coarser along its line of equal ratio, which bends with the
// method; water and dose across the lines at equal yield.
//
//	T  Turn.StrengthPct  % w/w  accepted 0.15 to 35
//	E  Turn.YieldPct     %      accepted 1 to 100
//	   Turn.PointsPct    %      accepted 0.1 to 5
//	   Turn.ChangePct    %      accepted 0.1 to 30
//	   Turn.Method as in [LineStrength]
//
// Lengths are for drawing: how far a click of a grinder goes, no formula says.
// Equal yield under a change of ratio is measured for full immersion; a filter
// with more water also gives a little more yield, so that its arrow leans.
// For espresso, finer does not always mean more: beyond a peak the yield
// falls, because the bed no longer wets evenly. Outside the ranges, or where a
// neighbour does not exist, it returns the zero directions and the error of
// [LineStrength] or [PointRatio].
//
// Source: conservation of mass by [LineStrength]; equal yield after Liang,
// Chan & Ristenpart, Scientific Reports 11:6904, 2021 (quoted); the peak of
// espresso after Cameron et al., Matter 2(3):631, 2020 (summary opened).
func Directions(in Turn) ([4]Direction, error) {
	bad := in.Method.check(nil)
	bad = fault.Float(bad, "StrengthPct", in.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	bad = fault.Float(bad, "PointsPct", in.PointsPct, 0.1, 5, "%")
	bad = fault.Float(bad, "ChangePct", in.ChangePct, 0.1, 30, "%")
	if err := fault.Input(bad); err != nil {
		return [4]Direction{}, err
	}
	r, err := PointRatio(OnMap{Method: in.Method, StrengthPct: in.StrengthPct, YieldPct: in.YieldPct})
	if err != nil {
		return [4]Direction{}, err
	}
	out := [4]Direction{
		{Change: "finer", YieldPct: in.YieldPct + in.PointsPct, Because: "the ratio stays"},
		{Change: "coarser", YieldPct: in.YieldPct - in.PointsPct, Because: "the ratio stays"},
		{Change: "more water", YieldPct: in.YieldPct, Because: "the yield stays"},
		{Change: "more dose", YieldPct: in.YieldPct, Because: "the yield stays"},
	}
	ratios := [4]float64{r, r, r * (1 + in.ChangePct/100), r / (1 + in.ChangePct/100)}
	for i := range out {
		if out[i].StrengthPct, err = LineStrength(OnLine{Method: in.Method, Ratio: ratios[i], YieldPct: out[i].YieldPct}); err != nil {
			return [4]Direction{}, err
		}
	}
	return out, nil
}
