package checkpoint

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// A Lot is what several verdicts on one lot come to.
type Lot struct {
	Word                 Word
	InCount              int     // verdicts that say in
	OutCount             int     // verdicts that say out
	TooCloseCount        int     // verdicts that say too close to call
	Weakest              int     // index of the first verdict with the lot's word and the least InPct among those
	AllInPct, SomeOutPct float64 // probability that all are inside, and that at least one is not, were the readings independent, %
}

// Together returns the word for a lot with several verdicts: out if any is
// out, else too close to call if any is, else in.
//
//	all in    100·Π(p_i/100)
//	some out  100 − all in
//
//	p_i  verdicts[i].InPct, %; accepted 0 to 100, at most 100 000 verdicts
//
// The word is the chain's weakest link and takes no account of how many links
// there are: twenty readings, each with a risk of 5 %, are all inside with a
// probability that may be as low as 36 %. AllInPct shows that.
//
// No verdict, or one that was not judged, is refused with an [*InputError].
//
// Source: definition.
func Together(verdicts ...Verdict) (Lot, error) {
	bad := fault.Int(nil, "verdicts", len(verdicts), 1, 100000, "verdicts")
	for i, v := range verdicts {
		if v.Word < In || v.Word > TooClose || !(v.InPct >= 0 && v.InPct <= 100) {
			bad = append(bad, &FieldError{Field: "verdicts[" + strconv.Itoa(i) + "]", Given: v.Word.String(), Min: 0, Max: 100, Unit: "% inside",
				Why: "take verdicts as Judge gave them"})
		}
	}
	if bad != nil {
		return Lot{}, fault.Input(bad)
	}
	lot := Lot{Word: In}
	logAll := 0.0
	for _, v := range verdicts {
		switch v.Word {
		case In:
			lot.InCount++
		case Out:
			lot.OutCount++
		case TooClose:
			lot.TooCloseCount++
		}
		logAll += math.Log(v.InPct / 100)
	}
	switch {
	case lot.OutCount > 0:
		lot.Word = Out
	case lot.TooCloseCount > 0:
		lot.Word = TooClose
	}
	least := math.Inf(1)
	for i, v := range verdicts {
		if v.Word == lot.Word && v.InPct < least {
			least, lot.Weakest = v.InPct, i
		}
	}
	lot.AllInPct, lot.SomeOutPct = 100*math.Exp(logAll), 0-100*math.Expm1(logAll) // never −0
	return lot, nil
}
