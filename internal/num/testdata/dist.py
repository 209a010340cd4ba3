#!/usr/bin/env python3
# Writes dist.csv, the reference values of dist_test.go, to standard output.
# Run with Debian 12's own Python, its scipy and its mpmath.
import mpmath as mp
import scipy
from scipy import stats

mp.mp.dps = 40
print("# scipy %s, mpmath %s" % (scipy.__version__, mp.__version__))
print("function,args,value")

def row(name, args, value):
    print("%s,%s,%s" % (name, " ".join(repr(float(a)) for a in args), mp.nstr(mp.mpf(value), 15) if isinstance(value, mp.mpf) else repr(float(value))))

def quantile(p):
    return mp.sqrt(2) * mp.erfinv(2 * mp.mpf(p) - 1)

def student_quantile(p, nu):
    # scipy 1.10 is good to 9 digits only in the longest tails
    def miss(t):
        tail = mp.betainc(mp.mpf(nu) / 2, mp.mpf(1) / 2, 0, mp.mpf(nu) / (nu + t * t), regularized=True) / 2
        return (tail if t < 0 else 1 - tail) / mp.mpf(p) - 1
    t = mp.mpf(stats.t.ppf(p, nu))
    return mp.findroot(miss, (t, t * (1 + mp.mpf("1e-7"))), tol=1e-25)

for z in (-30, -6, -1.5, 0, 0.3, 3):
    row("normal cdf", [z], mp.ncdf(z))
for p in (1e-300, 1e-12, 0.025, 0.4, 0.95, 0.9999):
    row("normal quantile", [p], stats.norm.ppf(p))
for nu in (1, 2.5, 9, 200, 1e6):
    for t in (-40, -2, 0.1, 3):
        row("student cdf", [t, nu], mp.betainc(mp.mpf(nu) / 2, mp.mpf(1) / 2, 0, mp.mpf(nu) / (nu + mp.mpf(t) ** 2), regularized=True) / 2 if t < 0
            else 1 - mp.betainc(mp.mpf(nu) / 2, mp.mpf(1) / 2, 0, mp.mpf(nu) / (nu + mp.mpf(t) ** 2), regularized=True) / 2)
    for p in (0.0005, 0.05, 0.6, 0.975, 0.9999):
        row("student quantile", [p, nu], student_quantile(p, nu))
for nu in (1, 4, 9, 60, 999):
    for x in (0.01, 1, 9, 70, 1100):
        row("chi2 cdf", [x, nu], mp.gammainc(mp.mpf(nu) / 2, 0, mp.mpf(x) / 2, regularized=True))
        row("chi2 tail", [x, nu], mp.gammainc(mp.mpf(nu) / 2, mp.mpf(x) / 2, mp.inf, regularized=True))
    for p in (0.0001, 0.05, 0.5, 0.95, 0.9999):
        row("chi2 quantile", [p, nu], stats.chi2.ppf(p, nu))
for d1, d2 in ((1, 1), (3, 12), (10, 4), (200, 300)):
    for x in (0.001, 0.5, 1.5, 30):
        row("f cdf", [x, d1, d2], stats.f.cdf(x, d1, d2))
        row("f tail", [x, d1, d2], stats.f.sf(x, d1, d2))
    for p in (0.001, 0.05, 0.5, 0.95, 0.999):
        row("f quantile", [p, d1, d2], stats.f.ppf(p, d1, d2))
for n in (1, 10, 300, 5000):
    for p in (0.002, 0.3333, 0.9):
        for k in sorted({0, 1, n // 3, n - 1}):
            row("binomial cdf", [k, n, p], stats.binom.cdf(k, n, p))
            row("binomial tail", [k, n, p], stats.binom.sf(k - 1, n, p))
for k, n, marked, lot in ((0, 5, 2, 20), (1, 10, 5, 60), (3, 8, 8, 8), (2, 30, 20, 300), (12, 125, 300, 3200), (0, 1, 1, 2), (40, 900, 100, 2000)):
    row("hypergeometric cdf", [k, n, marked, lot], stats.hypergeom.cdf(k, lot, marked, n))

def nct_tail(t, nu, d):
    t, nu, d = mp.mpf(t), mp.mpf(nu), mp.mpf(d)
    c = 2 * (nu / 2) ** (nu / 2) / mp.gamma(nu / 2)
    w = 1 / mp.sqrt(2 * nu)
    pts = [d / t + k / t for k in (-30, -9, -4, 0, 4, 9, 30)] + [1 + k * w for k in (-20, -9, -4, 0, 4, 9, 20)]
    pts = sorted(set([mp.mpf(0), 1 + 40 * w] + [p for p in pts if p > 0]))
    return mp.quad(lambda s: mp.ncdf(d - t * s) * c * s ** (nu - 1) * mp.exp(-nu * s * s / 2), pts)

mp.mp.dps = 30
for nu, d, t in ((1, 5.2594, 41964.6), (1, 0.5, 0.3), (4, -1.5, 2), (9, 5.2, 9.2), (9, 5.2, 1), (40, 11.5, 15), (40, 11.5, 8), (998, 117.6, 128.8), (998, 0, 3.1), (998, 117.6, 100)):
    row("noncentral t tail", [t, nu, d], nct_tail(t, nu, d))
    row("noncentral t cdf", [t, nu, d], 1 - nct_tail(t, nu, d))
