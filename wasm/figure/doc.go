// Package figure draws small figures as SVG text.
package figure
