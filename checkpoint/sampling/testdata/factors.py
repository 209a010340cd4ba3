#!/usr/bin/env python3
# Writes factors.csv, one-sided normal tolerance factors, to standard output.
# Run with Debian 12's own Python and its scipy and mpmath: scipy's noncentral
# t gives the start (it is good to 9 digits at best), mpmath the digits.
import mpmath as mp
import numpy
import scipy
from scipy import stats

mp.mp.dps = 20

def tail(t, nu, d):
    c = mp.log(2) + (nu / 2) * mp.log(nu / 2) - mp.loggamma(nu / 2)
    w = 1 / mp.sqrt(2 * nu)
    hi = 1 + 20 * w
    pts = [d / t + k / t for k in (-12, -8, -4, 0, 4, 8, 12)] + [1 + k * w for k in (-12, -8, -4, 0, 4, 8, 12)]
    pts = sorted(set([mp.mpf(0), hi] + [p for p in pts if 0 < p < hi]))
    f = lambda s: mp.ncdf(d - t * s) * mp.exp(c + (nu - 1) * mp.log(s) - nu * s * s / 2) if s > 0 else mp.mpf(0)
    return mp.quad(f, pts)

print("# scipy %s, mpmath %s" % (scipy.__version__, mp.__version__))
print("n,coveragePct,confidencePct,k")
for n in (2, 3, 5, 10, 30, 100, 300, 1000):
    for p in ("50", "90", "95", "99", "99.99"):
        for g in ("50", "90", "95", "99", "99.99"):
            if p == "50" and g == "50":
                continue
            nu = mp.mpf(n - 1)
            d = mp.sqrt(2) * mp.erfinv(2 * mp.mpf(p) / 100 - 1) * mp.sqrt(n)
            q = 1 - mp.mpf(g) / 100
            t = mp.mpf(stats.nct.ppf(float(1 - q), n - 1, float(d)))
            miss = lambda x: mp.log(tail(x, nu, d) / q)
            a, b = t, t * (1 + mp.mpf("1e-6"))
            fa, fb = miss(a), miss(b)
            for _ in range(4):
                if fa == fb:
                    break
                a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
                fb = miss(b)
                if abs(b - a) < abs(b) * mp.mpf("1e-12"):
                    break
            print("%d,%s,%s,%s" % (n, p, g, mp.nstr(b / mp.sqrt(n), 12)), flush=True)

# Two sides, the same way: the chance over the mean's own error z/√n that the
# interval is too narrow.
def quantile(p):
    return mp.sqrt(2) * mp.erfinv(2 * p - 1)

def two(n, p, g):
    nu = mp.mpf(n - 1)
    q = 1 - mp.mpf(p) / 100
    root = mp.sqrt(n)
    def radius(z):
        r = mp.hypot(quantile(1 - q / 2), z)
        for _ in range(60):
            step = (mp.ncdf(-z - r) + mp.ncdf(z - r) - q) / (mp.npdf(z + r) + mp.npdf(z - r))
            r += step
            if abs(step) < mp.mpf("1e-18"):
                break
        return r
    nodes = []
    for i in range(3):
        a, b = i * 9 / root / 3, (i + 1) * 9 / root / 3
        for x, w in rule:
            z = (a + b) / 2 + (b - a) / 2 * x
            nodes.append((radius(z) ** 2, w * (b - a) * root * mp.npdf(z * root)))
    def miss(k):
        return mp.log(sum(w * mp.gammainc(nu / 2, 0, nu * r / (2 * k * k), regularized=True) for r, w in nodes) / (1 - mp.mpf(g) / 100))
    # secant in ln k, in which the tail is nearly straight
    a = mp.log(quantile(1 - q / 2) * mp.sqrt(nu * (1 + mp.mpf(1) / n) / stats.chi2.ppf(1 - float(g) / 100, n - 1)))
    b = a + mp.mpf("1e-3")
    fa, fb = miss(mp.exp(a)), miss(mp.exp(b))
    for _ in range(30):
        a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
        fb = miss(mp.exp(b))
        if abs(b - a) < mp.mpf("1e-13"):
            return mp.exp(b)
    raise ArithmeticError((n, p, g))

rule = [(mp.mpf(x), mp.mpf(w)) for x, w in zip(*numpy.polynomial.legendre.leggauss(24))]
with open("twosided-mp.csv", "w") as f:
    f.write("# mpmath %s\nn,coveragePct,confidencePct,k\n" % mp.__version__)
    for n in (2, 5, 30, 1000):
        for p in ("90", "99", "99.99"):
            for g in ("50", "95", "99.99"):
                f.write("%d,%s,%s,%s\n" % (n, p, g, mp.nstr(two(n, p, g), 12)))
