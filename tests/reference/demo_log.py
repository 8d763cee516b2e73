#!/usr/bin/env python3
"""Makes docs/demo/van-log.csv: three days of a camper van whose panels somebody wired all in parallel.

    python3 tests/reference/demo_log.py build/release/plait > docs/demo/van-log.csv

Volts and amps are those of `plait curve` in invented weather, with noise; what happens when is in `drawn`. The story:
  day 1  hot and clear: nothing is wrong, and heat takes what it takes
  day 2  cool: the battery is full after two o'clock
  day 3  cool: one panel's plug is loose until eleven; from three on a tree stands in the light
"""
import json
import math
import random
import subprocess
import sys

PLAIT = sys.argv[1]
DICE = random.Random(20260621)


def curve(wiring, sun, air, at=None):
    words = [PLAIT, "curve", "docs/demo/van.toml", "--wiring", wiring, "--sun", f"{sun:.3f}", "--air", f"{air:.3f} °C", "--json"]
    if at is not None:
        words += ["--at", f"{at:.6f}"]
    else:
        words += ["--points", "2"]
    return json.loads(subprocess.run(words, check=True, capture_output=True).stdout)["inputs"][0]


def drawn(day, hour, sun, air):
    """Volts and amps, and the battery's charge."""
    charge = min(100.0, 40.0 + 5.0 * (hour - 6.0))
    wiring, light = "1s4p", sun
    if day == 2 and hour < 11.0:
        wiring = "1s3p"
    if day == 2 and hour >= 15.0:
        light = 0.45 * sun
    c = curve(wiring, light, air)
    op = c["operation"]
    v, a = (op["voltage_v"], op["current_a"]) if op["held"] else (c["open_circuit_v"], 0.0)
    if day == 1:
        charge = min(100.0, 55.0 + 5.4 * (hour - 6.0))
        if hour >= 14.0 and op["held"]:
            up = min(1.0, 0.3 + 0.25 * (hour - 14.0))
            v = v + up * (c["open_circuit_v"] - v)
            a = max(0.0, curve(wiring, light, air, v)["points"][0]["current_a"])
    return v, a, charge


def main():
    print("# Invented: a van with its four panels in parallel, three days in June. Made by tests/reference/demo_log.py.")
    print("time,PV voltage (V),PV current (A),irradiance (W/m2),air temperature (degC),state of charge (%)")
    for day in range(3):
        cloud = 1.0
        for step in range(0, 85):
            hour = 6.0 + step / 6.0
            height = max(0.0, math.sin(math.pi * (hour - 5.5) / 15.0))
            cloud = 1.0 if day == 0 else min(1.0, max(0.3, cloud + DICE.gauss(0.0, 0.12)))
            sun = max(2.0, 980.0 * height**1.2 * cloud)
            air = (30.0 if day == 0 else 14.0) + 12.0 * height
            v, a, charge = drawn(day, hour, sun, air)
            v *= 1.0 + DICE.gauss(0.0, 0.004)
            a *= 1.0 + DICE.gauss(0.0, 0.008)
            sun *= 1.0 + DICE.gauss(0.0, 0.02)
            minutes = round(hour * 60)
            print(f"2026-06-{20 + day}T{minutes // 60:02d}:{minutes % 60:02d},{v:.1f},{a:.1f},{sun:.0f},"
                  f"{air + DICE.gauss(0.0, 0.7):.1f},{charge:.0f}")


main()
