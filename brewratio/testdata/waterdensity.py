#!/usr/bin/env python3
"""Writes waterdensity.csv: density of water at 101325 Pa by IAPWS-95.

Needs Debian's python3-iapws (written with Debian 12's 1.5.3-1, which calls itself 1.5.2). Run it with
the system's own python3:  /usr/bin/python3 waterdensity.py > waterdensity.csv
"""
import warnings
warnings.filterwarnings("ignore")
import iapws
from iapws import IAPWS95

print("# IAPWS-95 at 101325 Pa, iapws %s, written by waterdensity.py" % iapws.__version__)
print("TempC,KgPerM3")
for tenth in list(range(0, 1000, 25)) + [932, 944, 999]:
    t = tenth / 10
    print("%.1f,%.6f" % (t, IAPWS95(T=t + 273.15, P=0.101325).rho))
