# Times the Python peers, at the inputs of library.go; the least of several
# rounds. Prints name and nanoseconds of one call.
import timeit

import numpy
import scipy.stats
from uncertainties import ufloat


def factor():
    return scipy.stats.nct.ppf(0.95, 14, 1.6448536269514722 * 15**0.5) / 15**0.5


def chance():
    return scipy.stats.binom.sf(26, 60, 1 / 3)


a, b, c = ufloat(36, 0.1), ufloat(9.5, 0.05), ufloat(18, 0.05)


def propagate():
    return (a * b / c).std_dev


def draws():  # a million of the same quotient at once, and where 95 % of it lie
    g, n = numpy.random.default_rng(1), 10**6
    y = g.normal(36, 0.1, n) * g.normal(9.5, 0.05, n) / g.normal(18, 0.05, n)
    return numpy.quantile(y, [0.025, 0.975])


assert abs(factor() - 2.566) < 0.001  # a table's value for 15, 95 %, 95 %
for f in factor, chance, propagate, draws:
    n, took = 1, 0
    while took < 0.02:
        n *= 2
        took = timeit.timeit(f, number=n)
    print(f.__name__, 1e9 * min(timeit.repeat(f, number=n, repeat=7)) / n)
