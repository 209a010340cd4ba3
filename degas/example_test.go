package degas_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/degas"
)

// A curve through two shares of our own: 45 % gone after a day, 85 % after a
// week. What is left at four days?
func ExampleLeft() {
	curve, err := degas.StretchedThrough(degas.Point{Days: 1, GonePct: 45}, degas.Point{Days: 7, GonePct: 85})
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := degas.Left(curve, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% left\n", s.LeftPct)
	// Output: 26 % left
}

// When is a third of the gas left?
func ExampleDaysUntil() {
	days, err := degas.DaysUntil(degas.Stretched{TauDays: 4, Exponent: 0.65}, 33)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f days\n", days)
	// Output: 4.7 days
}

// A ground particle of half a millimetre, at the slow end of the published
// diffusivities: what is left after an hour?
func ExampleLeft_sphere() {
	grain := degas.Sphere{RadiusMM: 0.25, DiffusivityM2PerS: degas.GroundDiffusivityLowM2PerS}
	s, err := degas.Left(grain, 1.0/24)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% left\n", s.LeftPct)
	// Output: 83 % left
}

// How fast does gas leave in the first day, and in the second week?
func ExampleMeanRate() {
	curve := degas.Stretched{TauDays: 4, Exponent: 0.65}
	first, err := degas.MeanRate(curve, 0, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	later, err := degas.MeanRate(curve, 7, 14)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f, then %.1f %% of the gas a day\n", first, later)
	// Output: 33, then 1.9 % of the gas a day
}

// Coffee holds 9 mg/g at drop and is wanted at 3: how long is the rest?
func ExampleDaysUntilAmount() {
	coffee := degas.Coffee{GasMgPerG: 9, Curve: degas.Stretched{TauDays: 4, Exponent: 0.65}}
	days, err := degas.DaysUntilAmount(coffee, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f days\n", days)
	// Output: 4.6 days
}

// What does a sample hold that lost 2.1 mg/g by the first day and 4.4 by the
// fifth, if it empties as one pool?
func ExampleFirstOrderFromLosses() {
	coffee, err := degas.FirstOrderFromLosses(
		degas.Loss{Days: 1, GoneMgPerG: 2.1}, degas.Loss{Days: 5, GoneMgPerG: 4.4})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mg/g\n", coffee.GasMgPerG)
	// Output: 4.6 mg/g
}

// A shelf at 28 °C instead of the 20 °C where the curve was measured, with an
// activation energy of one's own of 45 kJ/mol.
func ExampleHastened() {
	factor, err := degas.ArrheniusFactor(degas.Arrhenius{ActivationKJPerMol: 45, ReferenceC: 20, TempC: 28})
	if err != nil {
		fmt.Println(err)
		return
	}
	warm, err := degas.Hastened(degas.Stretched{TauDays: 4, Exponent: 0.65}, factor)
	if err != nil {
		fmt.Println(err)
		return
	}
	days, err := degas.DaysUntil(warm, 33)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f times as fast, a third left after %.1f days\n", factor, days)
	// Output: 1.63 times as fast, a third left after 2.9 days
}

// A week that began in a hot van: what age at 20 °C does it amount to?
func ExampleEquivalentDays() {
	stays := []degas.Stay{{Days: 1, TempC: 35}, {Days: 6, TempC: 20}}
	days, err := degas.EquivalentDays(stays, func(tempC float64) (float64, error) {
		return degas.Q10Factor(degas.Q10{Factor: 1.8, ReferenceC: 20, TempC: tempC})
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f days\n", days)
	// Output: 8.4 days
}

// Somebody says "six litres of gas per kilogram". How much is that?
func ExampleGasFromVolume() {
	gas, err := degas.GasFromVolume(6, degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mg/g\n", gas)
	// Output: 11.0 mg/g
}

// A fraction given for a percent does not pass.
func ExampleDaysUntil_refused() {
	_, err := degas.DaysUntil(degas.Stretched{TauDays: 4, Exponent: 0.65}, 0.33)
	var bad *degas.FieldError
	if errors.As(err, &bad) {
		fmt.Println(bad.Field, "takes", bad.Min, "to", bad.Max, bad.Unit)
	}
	// Output: leftPct takes 1 to 100 %
}
