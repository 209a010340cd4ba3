package weighing

import (
	"strconv"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

func itoa(n int) string { return strconv.Itoa(n) }

// A WeightClass is the accuracy class of a test weight.
//
// The zero WeightClass is refused.
type WeightClass uint8

// The weight classes of OIML R 111, from the finest.
const (
	E2 WeightClass = iota + 1
	F1
	F2
	M1
	M2
	M3
)

var weightNames = [...]string{"no class", "E2", "F1", "F2", "M1", "M2", "M3"}

// String is the class as engraved or certified.
func (c WeightClass) String() string {
	if int(c) < len(weightNames) {
		return weightNames[c]
	}
	return weightNames[0]
}

// weightErrors are the maximum permissible errors of OIML R 111-1:2004, table
// 1, in µg, for nominal values in mg. Zero stands where the table has none.
var weightErrors = [...]struct {
	mg int64
	ug [6]int64
}{
	{20_000_000, [6]int64{30_000, 100_000, 300_000, 1_000_000, 3_000_000, 10_000_000}},
	{10_000_000, [6]int64{16_000, 50_000, 160_000, 500_000, 1_600_000, 5_000_000}},
	{5_000_000, [6]int64{8_000, 25_000, 80_000, 250_000, 800_000, 2_500_000}},
	{2_000_000, [6]int64{3_000, 10_000, 30_000, 100_000, 300_000, 1_000_000}},
	{1_000_000, [6]int64{1_600, 5_000, 16_000, 50_000, 160_000, 500_000}},
	{500_000, [6]int64{800, 2_500, 8_000, 25_000, 80_000, 250_000}},
	{200_000, [6]int64{300, 1_000, 3_000, 10_000, 30_000, 100_000}},
	{100_000, [6]int64{160, 500, 1_600, 5_000, 16_000, 50_000}},
	{50_000, [6]int64{100, 300, 1_000, 3_000, 10_000, 30_000}},
	{20_000, [6]int64{80, 250, 800, 2_500, 8_000, 25_000}},
	{10_000, [6]int64{60, 200, 600, 2_000, 6_000, 20_000}},
	{5_000, [6]int64{50, 160, 500, 1_600, 5_000, 16_000}},
	{2_000, [6]int64{40, 120, 400, 1_200, 4_000, 12_000}},
	{1_000, [6]int64{30, 100, 300, 1_000, 3_000, 10_000}},
	{500, [6]int64{25, 80, 250, 800, 2_500, 0}},
	{200, [6]int64{20, 60, 200, 600, 2_000, 0}},
	{100, [6]int64{16, 50, 160, 500, 1_600, 0}},
	{50, [6]int64{12, 40, 120, 400, 0, 0}},
	{20, [6]int64{10, 30, 100, 300, 0, 0}},
	{10, [6]int64{8, 25, 80, 250, 0, 0}},
}

// WeightErrorG returns by how much a test weight of a class may differ from
// its nominal value, in grams.
//
//	OIML R 111-1:2004, table 1, for nominal values of 1, 2 and 5 times a
//	power of ten from 10 mg to 20 kg
//
//	nominalG   g   accepted 0.01 to 20 000, values of the table only
//
// For several weights put on together add their errors. A worn or dusty
// weight has left its class: a certificate not older than its interval is
// what counts. A class out of range, a value that the table does not have,
// and one that the class does not have, are refused with an [*InputError].
//
// Source: OIML R 111-1:2004, table 1.
func WeightErrorG(class WeightClass, nominalG decimal.Decimal) (decimal.Decimal, error) {
	bad := fault.Int(nil, "class", int(class), int(E2), int(M3), "")
	bad = fault.Decimal(bad, "nominalG", nominalG, 0.01, 20000, "g")
	if bad == nil {
		for _, row := range weightErrors {
			if ug := row.ug[class-E2]; ug > 0 && nominalG.Equal(decimal.New(row.mg, -3)) {
				return decimal.New(ug, -6), nil
			}
		}
		bad = append(bad, &FieldError{Field: "nominalG", Given: fault.Digits(nominalG), Min: leastNominal(class), Max: 20000, Unit: "g",
			Why: "a test weight of class " + class.String() + " is 1, 2 or 5 times a power of ten"})
	}
	return decimal.Decimal{}, fault.Input(bad)
}

// leastNominal is the smallest weight of a class in the table, g.
func leastNominal(class WeightClass) float64 {
	least := weightErrors[0].mg
	for _, row := range weightErrors {
		if row.ug[class-E2] > 0 {
			least = row.mg
		}
	}
	return float64(least) / 1000
}
