"""Writes diffusion.csv: shares left and gone of a sphere and a sheet to 30
digits, over twelve decades of Fo and close by where the two forms join.

Both are computed here from the eigenfunction series alone, with 60 digits and
as many terms as those need, so that nothing is shared with the Go code but
the textbook. Below Fo = 1e-5, where that takes too many terms, the series of
reflected fronts is used after the two have been seen to agree to 40 digits.

    python3 diffusion.py > diffusion.csv      # mpmath 1.3.0
"""
from mpmath import mp, mpf, pi, exp, sqrt, erfc, nstr

mp.dps = 60


def eigen(fo, sheet):
    total, n = mpf(0), 1
    while True:
        x = (n * pi / 2) ** 2 if sheet else (n * pi) ** 2
        term = exp(-x * fo) / n**2
        total += term
        n += 2 if sheet else 1
        if term < mpf(10) ** -58 * total:
            break
    return total * (8 if sheet else 6) / pi**2


def fronts(fo, sheet):
    def ierfc(x):
        return exp(-x * x) / sqrt(pi) - x * erfc(x)

    r, total, n = sqrt(fo), mpf(0), 1
    while True:
        term = ierfc(n / r)
        total += (-1) ** n * term if sheet else term
        n += 1
        if term < mpf(10) ** -58:
            break
    if sheet:
        return 2 * r * (1 / sqrt(pi) + 2 * total)
    return 6 * r / sqrt(pi) - 3 * fo + 12 * r * total


points = [mpf(10) ** (mpf(i) / 8) for i in range(-72, 25)]
points += [mpf(x) / 1000 for x in (30, 50, 90, 99, 101, 110, 150, 190, 199, 201, 210, 300, 1000, 30000, 70000)]
print("fo,sphere_left,sphere_gone,sheet_left,sheet_gone")
for fo in sorted(points):
    fo = mpf(float(fo))  # the float that Go will read
    row = [repr(float(fo))]
    for sheet in (False, True):
        if fo >= mpf("1e-5"):
            left = eigen(fo, sheet)
            gone = 1 - left
            if fo < 2:
                assert abs(gone - fronts(fo, sheet)) < mpf(10) ** -40
        else:
            gone = fronts(fo, sheet)
            left = 1 - gone
        row += [nstr(left, 30), nstr(gone, 30)]
    print(",".join(row))
