// Package degas answers when roasted coffee is ready, when it must be gone,
// and what its gas does to the bag and to the people around it.
//
// # What is known, and what is not
//
// Roasted beans hold about 10 mg of carbon dioxide per gram; the published
// claims reach from 6 to 20. They let it go fast at first and then for weeks.
// How fast, nobody has published by roast degree in a form that could be
// opened and checked: this package ships no kinetic parameter as a fact. It
// offers the shapes of release curve that the literature uses, a fit of them
// to weighings or jar pressures of one's own with its uncertainty, and, for
// those without data, a band between the published claims that is called what
// it is: an orientation.
//
// # Quantities
//
//	t    Days               age since roasting, or since grinding, days of 24 h
//	M0   GasMgPerG          carbon dioxide in the coffee at t = 0, mg per g of coffee
//	F    GonePct            share of M0 gone, %
//	L    LeftPct            share of M0 left, 100 − F, %
//	τ    TauDays            scale of time of a curve, days
//	β    Exponent           shape of the stretched exponential
//	D    DiffusivityM2PerS  effective diffusivity, m²/s
//	Fo   Fo                 D·t/a², the age in units of the diffusion time
//	Ea   ActivationKJPerMol activation energy, kJ/mol
//	G    LPerHour           gas given off into a room, L/h
//
// Masses of coffee are as weighed, with its moisture. Gas volumes are of an
// ideal gas at the temperature and pressure that the call states; carbon
// dioxide departs from it by 0.5 % at one atmosphere, which is far below what
// is known about the gas content.
//
// # Shapes
//
// [FirstOrder] is one pool that empties at one rate; beans do not. [TwoPools]
// is two of them. [Stretched] is the stretched exponential (Weibull) curve: a
// fast start and a long tail with two parameters. [Sphere] and [Sheet] are
// diffusion out of a body of one size. For the last three the rate at t = 0
// is infinite, so that only mean rates over an interval are offered.
//
// # What it leaves out
//
// The time of an espresso shot, which is disputed both ways. Gas by roast
// degree. A rate of carbon monoxide: none was published per mass of coffee,
// so there are its limits and measured cases, and no calculation.
//
// # Safety
//
// Stored coffee fills rooms, bins and silos with carbon dioxide and carbon
// monoxide. People have died in them. Never enter or lean into a bin, silo or
// tank on the strength of a number from here; test with meters for both gases
// and let local codes and trained people govern. An oxygen alarm does not
// protect from carbon dioxide. Closed rigid packs of fresh coffee can burst.
package degas
