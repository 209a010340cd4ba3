// Package stock answers how many roasted bags to hold over days without
// roasting, and how many to roast on each roast day, when bags must rest
// before they are sold and must be sold before they are stale.
//
// # Quantities
//
//	D          demand of a day or a weekend, bags
//	S          Bags, UpTo   stock at hand, bags
//	P(D ≤ S)   ServicePct   chance that nobody is sent away, %
//	           FillPct      share of the demand that is served, %
//	r, w       RestDays, ShelfDays   first and last day after the roast on which a bag is sold
//	L          LeadDays     days from ordering or roasting to having, days
//	μ, σ       mean and standard deviation of demand, bags
//
// Service and fill are two things: a shop that runs out in one weekend of ten
// may still serve 99 of 100 bags asked for. Say which one is meant.
//
// # Method
//
// Demand is the histogram of what was asked for in the past, bag by bag, not
// a curve laid over it. Days are added by convolution of their counts in
// whole numbers, so that a service level is met or missed exactly. Roast days
// follow the order-up-to rule of periodic review. The normal formulas of the
// textbooks (newsvendor, safety stock, fill rate) stand beside it for demand
// that is known by its mean and spread only.
//
// # What it leaves out
//
// Days that depend on each other (if a good Saturday makes a good Sunday,
// give one histogram of whole weekends), growth and season, demand that was
// never written down because the shelf was empty (count the asked, not the
// sold), and several coffees that compete for one roaster.
package stock
