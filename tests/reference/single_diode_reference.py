#!/usr/bin/env python3
"""Writes single_diode_reference.csv: points of single-diode curves to 25 digits, by Lambert's W in 60-digit arithmetic.

    python3 single_diode_reference.py > single_diode_reference.csv

Made with mpmath 1.3.0 (Debian python3-mpmath 1.2.1 gives the same digits) on Python 3. It shares nothing with the
library's solver, which uses neither W nor more than double precision. The closed forms are those of Jain & Kapoor, Solar
Energy Materials & Solar Cells 81 (2004); the maximum power point is a root of d(V*I)/dV by a bracketing method.
Every input is a double, written so that it reads back as the same double.
"""
import random
from mpmath import mp, mpf, exp, lambertw, log, findroot

mp.dps = 60
BOLTZMANN_OVER_CHARGE = 1.380649e-23 / 1.602176634e-19

CELLS = [1, 12, 36, 60, 72, 96, 144]
IDEALITY = [0.8, 1.0, 1.25, 1.6, 2.0]
CELL_DEGC = [-40.0, -10.0, 25.0, 50.0, 85.0]
LIGHT_A = [1e-3, 0.05, 1.0, 9.5, 20.0]
SERIES_DROP = [0.0, 1e-9, 1e-3, 0.03, 0.1, 0.3]  # Rs*IL over Voc
SHUNT_SHARE = [0.0, 1e-6, 1e-4, 1e-2, 0.1, 0.6]  # Voc/Rsh over IL: five decades and more, and no shunt
VOLTAGE = [-0.5, 0.0, 0.5, 0.85, 1.0, 1.2, 2.0]  # over the voltage aimed at
CURRENT = [-1.0, 0.0, 0.5, 0.95]  # over IL


def current(c, v):
    light, i0, a, rs, g = (mpf(x) for x in c)
    v = mpf(v)
    if rs == 0:
        return light - i0 * (exp(v / a) - 1) - g * v
    stretch = 1 + rs * g
    w = lambertw(rs * i0 / (a * stretch) * exp((v + rs * (light + i0)) / (a * stretch))).real
    return (light + i0 - g * v) / stretch - a / rs * w


def voltage(c, i):
    light, i0, a, rs, g = (mpf(x) for x in c)
    i = mpf(i)
    supply = light + i0 - i
    if g == 0:
        return a * log(supply / i0) - i * rs
    return supply / g - i * rs - a * lambertw(i0 / (a * g) * exp(supply / (a * g))).real


def maximum(c):
    light, i0, a, rs, g = (mpf(x) for x in c)

    def slope_of_power(v):
        i = current(c, v)
        junction = i0 / a * exp((v + i * rs) / a) + g
        return i - v * junction / (1 + rs * junction)

    voc = voltage(c, 0)
    v = findroot(slope_of_power, (voc / 1000, voc), solver="ridder", tol=mpf(10) ** -50, maxsteps=400, verify=False)
    assert abs(slope_of_power(v)) < light * mpf(10) ** -35
    return v, current(c, v)


def text(x):
    return mp.nstr(x, 25, strip_zeros=True, min_fixed=-1, max_fixed=0)


def main():
    draw = random.Random(20060101)
    print("light_a,saturation_a,ideality_v,series_ohm,shunt_s,kind,at,voltage_v,current_a")
    for number in range(72):
        # every value of every list, in ever new company
        cells, n, degc = CELLS[number % 7], IDEALITY[number % 5], draw.choice(CELL_DEGC)
        light, drop, share = draw.choice(LIGHT_A), SERIES_DROP[number % 6], draw.choice(SHUNT_SHARE)
        voc = cells * (0.68 - 0.0021 * (degc - 25.0)) * draw.uniform(0.85, 1.1)
        a = n * cells * BOLTZMANN_OVER_CHARGE * (degc + 273.15)
        c = (light, float(light / (exp(mpf(voc) / a) - 1)), a, drop * voc / light, share * light / voc)
        start = ",".join(repr(x) for x in c)
        for share_of_voc in VOLTAGE[number % 2 :: 2]:
            v = share_of_voc * voc
            print(f"{start},current,{v!r},{v!r},{text(current(c, v))}")
        i = CURRENT[number % 4] * light
        print(f"{start},voltage,{i!r},{text(voltage(c, i))},{i!r}")
        v, i = maximum(c)
        print(f"{start},maximum,0.0,{text(v)},{text(i)}")


main()
