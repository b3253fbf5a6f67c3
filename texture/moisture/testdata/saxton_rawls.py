#!/usr/bin/env python3
"""Saxton & Rawls (2006), Soil Sci. Soc. Am. J. 70:1569-1578, table 1, apart from the Go code.

    python3 saxton_rawls.py SAND% CLAY% ORGANIC% ...

The figures in this package's tests that no table prints come from it (Python 3.11).
"""
import math
import sys


def water(sand, clay, om):
    s, c = sand / 100, clay / 100
    dry = -0.024 * s + 0.487 * c + 0.006 * om + 0.005 * s * om - 0.013 * c * om + 0.068 * s * c + 0.031
    t1500 = dry + (0.14 * dry - 0.02)
    field = -0.251 * s + 0.195 * c + 0.011 * om + 0.006 * s * om - 0.027 * c * om + 0.452 * s * c + 0.299
    t33 = field + (1.283 * field**2 - 0.374 * field - 0.015)
    large = 0.278 * s + 0.034 * c + 0.022 * om - 0.018 * s * om - 0.027 * c * om - 0.584 * s * c + 0.078
    large += 0.636 * large - 0.107
    entry = -21.67 * s - 27.93 * c - 81.97 * large + 71.12 * s * large + 8.29 * c * large + 14.05 * s * c + 27.16
    entry += 0.02 * entry**2 - 0.113 * entry - 0.70
    full = t33 + large - 0.097 * s + 0.043
    b = (math.log(1500) - math.log(33)) / (math.log(t33) - math.log(t1500))
    return {
        "wilting %": 100 * t1500, "field %": 100 * t33, "full %": 100 * full, "available %": 100 * (t33 - t1500),
        "mm/h": 1930 * (full - t33) ** (3 - 1 / b), "g/cm3": 2.65 * (1 - full), "entry kPa": entry,
        "B": b, "A": math.exp(math.log(33) + b * math.log(t33)), "lambda": 1 / b,
    }


args = [float(a) for a in sys.argv[1:]]
for soil in zip(args[::3], args[1::3], args[2::3]):
    print(*soil, " ".join(f"{k} {v:.7g}" for k, v in water(*soil).items()))
