# Writes buffers.csv and plans.csv by listing every outcome in exact fractions
# (no convolution), and normal.csv with scipy.stats.norm.
# Run: /usr/bin/python3 make_oracle.py
import csv
import itertools
import platform
from fractions import Fraction

import scipy
from scipy.optimize import brentq
from scipy.stats import norm

HISTOGRAMS = {
    "a": {3: 2, 5: 5, 6: 1, 9: 2},
    "b": {0: 1, 4: 3, 12: 1},
    "c": {7: 1},
    "d": {0: 7, 1: 2, 2: 1},
    "closed": {0: 1},
}


def outcomes(names):
    days = [HISTOGRAMS[n] for n in names]
    total = {}
    for combo in itertools.product(*[d.items() for d in days]):
        p = Fraction(1)
        s = 0
        for (bags, times), d in zip(combo, days):
            p *= Fraction(times, sum(d.values()))
            s += bags
        total[s] = total.get(s, Fraction(0)) + p
    return total


def at(dist, stock):
    mean = sum(p * d for d, p in dist.items())
    short = sum(p * (d - stock) for d, p in dist.items() if d > stock)
    left = sum(p * (stock - d) for d, p in dist.items() if d < stock)
    service = sum(p for d, p in dist.items() if d <= stock)
    return mean, short, left, service


def buffer(dist, level):
    return min(s for s in dist if at(dist, s)[3] >= level)


def fill_buffer(dist, level):
    s = 0
    while at(dist, s)[1] > (1 - level) * at(dist, s)[0]:
        s += 1
    return s


LEVELS = ["50", "62.5", "80", "90", "95", "99.9"]
tool = "exact fractions over every outcome, Python %s" % platform.python_version()
with open("buffers.csv", "w", newline="") as f:
    f.write("# %s; columns days,level,buffer,fill buffer,mean,short,left,service\n" % tool)
    w = csv.writer(f, lineterminator="\n")
    for days in ("a", "b", "c", "d", "a b", "a a d", "b d closed a", "d d d d d"):
        dist = outcomes(days.split())
        for level in LEVELS:
            q = Fraction(level) / 100
            s = buffer(dist, q)
            mean, short, left, service = at(dist, s)
            w.writerow([days, level, s, fill_buffer(dist, q)] + [repr(float(v)) for v in (mean, short, left, service)])

CYCLES = [
    ("d a b a", [0], 1, 9),
    ("d a b a", [0, 2], 1, 4),
    ("a closed d", [0, 1], 2, 5),
    ("b d a", [2], 0, 2),
    ("a b d d", [1, 2], 3, 6),
]
with open("plans.csv", "w", newline="") as f:
    f.write("# %s; columns days,roast days,rest,shelf,level,then per roast up to,service,mean roast,stale bags,stale share\n" % tool)
    w = csv.writer(f, lineterminator="\n")
    for days, roasts, rest, shelf in CYCLES:
        names = days.split()
        n = len(names)
        over = lambda start, k: outcomes([names[(start + i) % n] for i in range(k)])
        gaps = [(roasts[(i + 1) % len(roasts)] - r - 1) % n + 1 for i, r in enumerate(roasts)]
        for level in ("80", "95"):
            q = Fraction(level) / 100
            ups = [buffer(over(r, g + rest), q) for r, g in zip(roasts, gaps)]
            row = [days, " ".join(map(str, roasts)), rest, shelf, level]
            for i, (r, g) in enumerate(zip(roasts, gaps)):
                b = i - 1
                since = over(roasts[b], gaps[b])
                mean = sum(p * max(0, d - (ups[b] - ups[i])) for d, p in since.items())
                kept = over(r, shelf + 1)
                stale = sum(p * max(0, ups[i] - d) for d, p in kept.items())
                often = sum(p for d, p in kept.items() if d < ups[i])
                row += [ups[i]] + [repr(float(v)) for v in (at(over(r, g + rest), ups[i])[3], mean, stale, often)]
            w.writerow(row)

with open("normal.csv", "w", newline="") as f:
    f.write("# scipy %s stats.norm, optimize.brentq; columns daily,sd,lead,lead sd,review,lot,level,safety,reorder,fill,safety for fill\n" % scipy.__version__)
    w = csv.writer(f, lineterminator="\n")
    loss = lambda z: norm.pdf(z) - z * norm.sf(z)
    for mu, sd in ((15, 5), (100, 30)):
        for lead, lsd, review in ((2, 0, 0), (5, 1, 0), (3, 0.5, 7)):
            for lot in (50, 400):
                for level in (80, 95, 99.5):
                    s = ((lead + review) * sd**2 + mu**2 * lsd**2) ** 0.5
                    ss = norm.ppf(level / 100) * s
                    fill = 1 - s * loss(ss / s) / lot
                    z = brentq(lambda z: s * loss(z) - (1 - level / 100) * lot, -30, 30, xtol=1e-13)
                    w.writerow([mu, sd, lead, lsd, review, lot, level] + [repr(float(v)) for v in (ss, mu * (lead + review) + ss, fill, z * s)])
