#!/usr/bin/env python3
"""Writes waterindex.csv: refractive index of water against a vacuum at 589.3
nm and 101325 Pa, IAPWS R9-97 with the density of IAPWS-95.

Needs Debian's python3-iapws (written with Debian 12's 1.5.3-1, which calls
itself 1.5.2). Run it with the system's own python3:
    /usr/bin/python3 waterindex.py > waterindex.csv
"""
import warnings
warnings.filterwarnings("ignore")
import iapws
from iapws import IAPWS95
from iapws._iapws import _Refractive

print("# IAPWS R9-97 at 589.3 nm, 101325 Pa, against a vacuum; iapws %s, written by waterindex.py" % iapws.__version__)
print("TempC,Index")
for t in range(0, 61, 2):
    T = t + 273.15
    print("%d,%.8f" % (t, _Refractive(IAPWS95(T=T, P=0.101325).rho, T, 0.5893)))
