#!/bin/sh
# Writes brixdensity.csv: apparent density in air at 20 °C of sucrose solutions,
# NIST Circular 440, table 114, as held by GNU Units 2.22 (Debian package
# units 2.22-2).    sh brixdensity.sh > brixdensity.csv
echo "# apparent density in air, 20 °C, $(units --version | head -n 1), written by brixdensity.sh"
echo "BrixPct,GPerML"
for b in 0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 22.5 25 27.5 30; do
	echo "$b,$(units --terse --output-format '%.6f' "brix($b)" "g/cm^3")"
done
