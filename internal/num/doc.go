// Package num holds mathematics with no coffee in it: bracketed roots,
// nonlinear least squares and the distributions that the uncertainty of a
// result needs. What a well-kept library does well is taken from there
// (gonum.org/v1/gonum/mathext for the incomplete beta and gamma functions).
package num
