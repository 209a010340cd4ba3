# Writes binomial.csv by exact rational arithmetic (Python's fractions) and
# owen.csv by scipy.special.owens_t (TVPACK's method of Patefield and Tandy).
# Run: /usr/bin/python3 make_tails.py
import csv
import platform
from fractions import Fraction
from math import comb

import scipy
from scipy.special import owens_t

with open("binomial.csv", "w", newline="") as f:
    f.write("# exact rational arithmetic, Python %s; columns x,n,p,pmf,upper\n" % platform.python_version())
    w = csv.writer(f)
    for n in (1, 2, 5, 15, 16, 30, 100, 604, 1000, 3000):
        for p in (1 / 3, 0.5, 0.01, 0.999, 0.4666666666666667, 1e-6):
            q = Fraction(p)  # the float itself, exactly
            a, b = q.numerator, q.denominator
            terms = [comb(n, k) * a**k * (b - a) ** (n - k) for k in range(n + 1)]
            total = b**n
            for x in sorted({0, 1, n // 3, n // 2, n // 2 + 1, (2 * n) // 3, n - 1, n}):
                if x < 0:
                    continue
                pmf = Fraction(terms[x], total)
                up = Fraction(sum(terms[x:]), total)
                w.writerow([x, n, repr(p), repr(float(pmf)), repr(float(up))])

with open("owen.csv", "w", newline="") as f:
    f.write("# scipy %s special.owens_t; columns h,a,t\n" % scipy.__version__)
    w = csv.writer(f)
    for h in (0, 1e-9, 0.1, 0.4, 1, 1.7, 2.5, 4, 6, 9, -1.3):
        for a in (0, 1e-6, 0.1, 3**-0.5, 0.99, 1, 1.01, 3**0.5, 10, 1e6, -0.7):
            w.writerow([repr(float(h)), repr(float(a)), repr(float(owens_t(h, a)))])
