"""Writes ../iapws.csv: properties of water vapour and humid air.

Needs Debian's python3-iapws and python3-scipy. Only the formulations are
taken from the library (IAPWS-95, sublimation pressure R14-08, ice R10-06,
humid air G08-10); the roots are found here, because the library's own search
for saturated air does not always converge.

    /usr/bin/python3 humidair.py > ../iapws.csv
"""

import warnings

from iapws import _iapws
from iapws._iapws import _Ice
from iapws.humidAir import HumidAir, Ma, Mw
from iapws.iapws95 import IAPWS95
from iapws.iapws97 import _TSat_P
from scipy.optimize import brentq

warnings.filterwarnings("ignore")
AIR = HumidAir()


def helmholtz(T, P, A):
    """Density, kg/m3, and the derivatives of the Helmholtz energy at A kg of dry air per kg."""
    guess = P * 1000 / (0.287042 * T * (1 + 0.61 * (1 - A)))
    rho = brentq(lambda r: r * r * AIR._fav(T, r, A)["fird"] / 1000 - P, guess * 0.9, guess * 1.1, xtol=1e-13, rtol=1e-13)
    return rho, AIR._fav(T, rho, A)


def share(A):
    """Molar share of vapour."""
    return (1 - A) / Mw / ((1 - A) / Mw + A / Ma)


def dry(x):
    """kg of dry air per kg at a molar share of vapour."""
    return (1 - x) * Ma / ((1 - x) * Ma + x * Mw)


def enthalpy(T, P, A):
    """kJ per kg of dry air."""
    rho, fa = helmholtz(T, P, A)
    return AIR._prop(T, rho, fa)["h"] / A


def saturated(T, P, ice):
    """kg of dry air per kg of saturated air."""
    g = _Ice(T, P)["g"] if ice else IAPWS95(T=T, P=P).g
    p = _iapws._Sublimation_Pressure(T) if ice else IAPWS95(T=T, x=0).P
    w = 1 - dry(p / P)

    def unequal(A):
        rho, fa = helmholtz(T, P, A)
        return g - (fa["fir"] + rho * fa["fird"] - A * fa["fira"])

    return brentq(unequal, 1 - w * 1.03, 1 - w * 0.98, xtol=1e-15, rtol=1e-14)


def wet_bulb(T, P, W):
    """Thermodynamic wet-bulb temperature, K, over liquid water."""
    h = enthalpy(T, P, 1 / (1 + W))

    def unequal(t):
        A = saturated(t, P, False)
        ws = 1 / A - 1
        return h + (ws - W) * IAPWS95(T=t, P=P).h - enthalpy(t, P, A)

    return brentq(unequal, 273.2, T - 0.01, xtol=1e-6)


def row(kind, t, p, x, value):
    print("%s,%g,%g,%.10g,%.8g" % (kind, t, p, x, value))


print("# python3-iapws 1.5.3-1 (Debian 12), IAPWS-95, R14-08, R10-06, G08-10; written by oracle/humidair.py")
print("kind,TempC,PressureKPa,MolarShare,value")
for t in range(-40, 1, 2):
    row("saturation over ice kPa", t, 0, 0, _iapws._Sublimation_Pressure(t + 273.15) * 1000)
for t in [0.1, *range(2, 82, 2)]:
    row("saturation over water kPa", t, 0, 0, IAPWS95(T=t + 273.15, x=0).P * 1000)
for t in (5, 18, 20, 25, 40, 80):
    p = IAPWS95(T=t + 273.15, x=0).P
    for rh in (30, 60, 90):
        e = p * rh / 100
        if e > 611.7e-6:
            row("dew point C of RH %d" % rh, t, 0, 0, _TSat_P(e) - 273.15)
for p in (70, 101.325):
    for t in (-40, -20, -5, 5, 18, 20, 25, 30, 40, 60, 80):
        T, P = t + 273.15, p / 1000
        A = saturated(T, P, t < 0)
        xs = share(A)
        row("saturated humidity ratio g/kg", t, p, xs, 1000 * (1 / A - 1))
        for part in (0.1, 0.55, 1):
            A = dry(xs * part)
            row("density kg/m3", t, p, xs * part, helmholtz(T, P, A)[0])
            row("enthalpy kJ/kg", t, p, xs * part, enthalpy(T, P, A) - enthalpy(273.15, 0.101325, 1 - 1e-9))
for t, rh in ((10, 50), (18, 60), (20, 55), (25, 60), (30, 30), (40, 20), (60, 50)):
    T, P = t + 273.15, 0.101325
    x = share(saturated(T, P, False)) * rh / 100
    row("wet bulb C", t, 101.325, x, wet_bulb(T, P, 1 / dry(x) - 1) - 273.15)
