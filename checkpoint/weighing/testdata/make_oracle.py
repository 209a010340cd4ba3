# Writes meanfactor.csv with scipy: Student's quantile as the root of the
# incomplete beta function (scipy.stats.t.ppf of this version keeps only nine
# digits).
# Run: /usr/bin/python3 make_oracle.py
import csv

import scipy
from scipy.optimize import brentq
from scipy.special import betainc


def student(p, nu):
    tail = lambda t: betainc(nu / 2, 0.5, nu / (nu + t * t)) / 2 - (1 - p)
    return brentq(tail, 0, 1e4, xtol=1e-15, rtol=1e-15)


with open("meanfactor.csv", "w", newline="") as f:
    f.write("# scipy %s special.betainc, optimize.brentq; columns sample,batch,factor\n" % scipy.__version__)
    w = csv.writer(f, lineterminator="\n")
    for n in (2, 3, 5, 12, 20, 24, 30, 32, 50, 80, 125, 1000, 10000):
        for batch in (0, n, n + 1, 3 * n, 100 * n):
            fpc = 1.0 if batch == 0 else (1 - n / batch) ** 0.5
            w.writerow([n, batch, repr(float(student(0.995, n - 1) / n**0.5 * fpc))])
