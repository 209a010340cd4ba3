// Package extraction answers how much of the coffee went into the water, how
// strong that made the cup, where the rest went, and how well we know it.
//
// # Quantities
//
//	D    DoseG                dry coffee as weighed, g
//	W    WaterG               water poured, g
//	B    BeverageG            what is in the cup or the server, g
//	T    StrengthPct          dissolved solids in the beverage, % w/w (TDS)
//	T_r  RetainedStrengthPct  the same in the liquid left in the grounds, % w/w
//	a    AbsorbedGPerG        water inside the particles that never mixes, g/g
//	S    DissolvedG           solids that left the coffee, g
//	E    YieldPct             extraction yield S/D, %
//
// # One balance
//
// Liquid is water plus what dissolved in it. A part of it is in the cup; the
// rest stays in the grounds, at a strength of its own:
//
//	S = [B·(T − T_r) + (W − a·D)·T_r]/(1 − T_r)
//
// with T and T_r as fractions. A brew that drains through clean water last
// has T_r = 0: S = B·T, and the water does not matter. In immersion, T_r = T
// and a = 0: S = W·T/(1 − T), and how much was poured off does not matter.
// Both are limits of the same function, [Yield], and everything between them
// is too. Which of them a brewer is nearer to is part of the brewer, not of
// the coffee: [Method] carries it to the map.
//
// # What is here
//
//   - Strength in every writing: [Convert], [ConvertGPerL], [BeverageMass].
//   - Yield: [Yield], [DrainingYield], [ImmersionYield], backwards [Strength]
//     and its two limits; after a bypass [BypassYield]; per dry coffee
//     [DryFactor]; from spent grounds [SpentGroundsYield].
//   - How well it is known: [YieldUncertainty] and its limits.
//   - What to expect: [Equilibrium]; what a change does: [StrengthAfter];
//     which recipe gives a cup: [RecipeFor].
//   - The measurement: [BrixStrength], [Brix], [BrixCorrection], [FitSlope],
//     [OvenStrength], [Repeatability].
//   - The map of strength and yield: [Windows], [LineStrength], [PointRatio],
//     [MapEllipse], [Directions].
//   - Mixtures: [Blend], [Dilute], [BlendParts].
//
// # How good
//
// Balances are arithmetic and as good as their masses. What limits a yield is
// the strength: no display's last digit is earned before the slope from index
// to coffee solids is one's own ([FitSlope]). The density of a brew rests on a
// volume of dissolved coffee that nobody has published.
//
// # What it leaves out
//
// No curve of strength against time: none is published with parameters that
// hold for total solids. Nothing here says what tastes good.
package extraction
