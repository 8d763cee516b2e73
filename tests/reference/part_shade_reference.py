#!/usr/bin/env python3
"""Writes part_shade_reference.csv: bypass groups some of whose cells are shaded, to 25 digits, in 50-digit arithmetic.

    python3 part_shade_reference.py > part_shade_reference.csv

Made with mpmath 1.3.0. It shares no code with the library: Newton's method on both junction voltages at once, and in the end a
look whether both equations hold to 40 digits. The shaded cells are those of Bishop, Solar Cells 25 (1988):

    I = IL - I0*expm1(w/a) - G*w - Ga*w*s*(1 - w/Vb)^-m,   s = 0.002, m = 3, Vb = -15 V a cell

Every input is a double, written so that it reads back as the same double.
"""
import math
import random
from mpmath import mp, mpf, exp, expm1

mp.dps = 50
SHARE, EXPONENT, BREAKDOWN = mpf("0.002"), 3, 15


def lit_current(c, u):
    light, i0, a, _, g = c
    return light - i0 * expm1(u / a) - g * u


def shaded_current(c, cells, ga, w):
    light, i0, a, _, g = c
    return light - i0 * expm1(w / a) - w * (g + ga * SHARE * (1 + w / (BREAKDOWN * cells)) ** -EXPONENT)


def start_of(lit, shaded, cells, ga, v):
    """Both junction voltages to some digits, by halving in ordinary arithmetic."""
    lit, shaded, ga, share = tuple(map(float, lit)), tuple(map(float, shaded)), float(ga), float(SHARE)

    def currents(w):
        dark = (shaded[0] - shaded[1] * math.expm1(min(w / shaded[2], 600.0))
                - w * (shaded[4] + ga * share * (1 + w / (BREAKDOWN * cells)) ** -EXPONENT))
        u = v + (lit[3] + shaded[3]) * dark - w
        return lit[0] - lit[1] * math.expm1(min(u / lit[2], 600.0)) - lit[4] * u, dark, u

    low, high = -BREAKDOWN * cells * (1 - 1e-9), 2.0 * cells
    for _ in range(200):
        w = 0.5 * (low + high)
        bright, dark, _u = currents(w)
        low, high = (low, w) if bright > dark else (w, high)
    return currents(w)[2], w


def solve(lit, shaded, cells, ga, v):
    """Newton on both equations at once, from there."""
    u, w = map(mpf, start_of(lit, shaded, cells, ga, v))
    v, rs = mpf(v), lit[3] + shaded[3]
    step = mpf(10) ** -20  # of the numeric slope: its error only slows Newton down
    for _ in range(40):
        a, b = lit_current(lit, u), shaded_current(shaded, cells, ga, w)
        bright_s = (a - lit_current(lit, u + step)) / step
        dark_s = (b - shaded_current(shaded, cells, ga, w + step)) / step
        # a(u) = b(w) and u + w - rs*b(w) = v
        unequal, off = a - b, u + w - rs * b - v
        dw = (unequal - (-bright_s) * off) / (-(dark_s + bright_s * (1 + rs * dark_s)))
        du = -off - (1 + rs * dark_s) * dw
        u, w = u + du, w + dw
        if abs(du) + abs(dw) < mpf(10) ** -44:
            break
    i = shaded_current(shaded, cells, ga, w)
    assert abs(lit_current(lit, u) - i) < mpf(10) ** -40 and abs(u + w - rs * i - v) < mpf(10) ** -40
    return i, w


def main():
    draw = random.Random(19880101)
    print("lit_light,lit_saturation,lit_ideality,lit_series,lit_shunt,dark_light,dark_saturation,dark_ideality,"
          "dark_series,dark_shunt,cells,bypass_saturation,bypass_slope,voltage_v,current_a,shaded_v")
    for number in range(40):
        all_cells = draw.choice([18, 20, 24, 36])
        cells = draw.choice([1, 1, 2, 3, all_cells // 2, all_cells - 1])
        light = draw.uniform(1.0, 13.0)
        n_vt = draw.uniform(1.0, 1.4) * draw.uniform(0.0215, 0.031)
        i0 = light * float(exp(-draw.uniform(0.55, 0.7) / n_vt))
        rs, g = draw.uniform(0.0, 0.006), light * draw.choice([2e-5, 1e-3, 1e-2, 0.05])
        dark_light = light * draw.choice([0.0, draw.uniform(0.01, 0.3), draw.uniform(0.3, 0.99)])
        n = all_cells - cells
        lit = (light, i0, n * n_vt, n * rs, g / n)
        shaded = (dark_light, i0, cells * n_vt, cells * rs, g / cells)
        bypass = (draw.uniform(1e-9, 1e-6), draw.uniform(0.022, 0.031))
        ga = max(mpf(shaded[4]), mpf("1e-3") * mpf(light) / cells)
        exact = (tuple(map(mpf, lit)), tuple(map(mpf, shaded)), cells, ga, mpf(bypass[0]), mpf(bypass[1]))
        start = ",".join(repr(x) for x in (*lit, *shaded, cells, *bypass))
        for share in (-0.03, 0.0, 0.05, draw.uniform(0.1, 0.6), 0.8, 0.95, 1.02):
            v = share * all_cells * 0.6
            i, w = solve(*exact[:4], v)
            total = i + exact[4] * expm1(-mpf(v) / exact[5])
            digits = [mp.nstr(x, 25, strip_zeros=True, min_fixed=-1, max_fixed=0) for x in (total, w)]
            print(f"{start},{v!r},{digits[0]},{digits[1]}")


main()
