#!/usr/bin/env python3
"""Makes a catalogue of invented panels and controllers for `plait match`, always the same.

    python3 tests/bench/catalogue.py FOLDER 500 200     FOLDER/panels, FOLDER/boxes and FOLDER/prices.csv
"""

import pathlib
import random
import sys

folder, panels, boxes = pathlib.Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
dice = random.Random(15)
prices = []

(folder / "panels").mkdir(parents=True, exist_ok=True)
for n in range(panels):
    cells = dice.choice([24, 32, 36, 36, 54, 60, 60, 66, 72, 72])
    voc = cells * dice.uniform(0.61, 0.73)
    vmp = voc * dice.uniform(0.82, 0.85)
    isc = dice.uniform(4.0, 15.0)
    imp = isc * dice.uniform(0.92, 0.95)
    name = f"panel-{n:04d}"
    (folder / "panels" / f"{name}.toml").write_text(f"""# Invented: no maker, no product.
name = "{name}"
technology = "{dice.choice(['mono', 'perc', 'perc', 'topcon'])}"
cells_in_series = {cells}
bypass_diodes = {2 if cells < 40 else 3}
pmax = "{vmp * imp:.2f} W"
vmp = "{vmp:.2f} V"
imp = "{imp:.3f} A"
voc = "{voc:.2f} V"
isc = "{isc:.3f} A"
isc_coefficient = "0.05 %/K"
voc_coefficient = "{dice.uniform(-0.31, -0.25):.3f} %/K"
pmax_coefficient = "{dice.uniform(-0.40, -0.32):.3f} %/K"
noct = "45 °C"
max_system_voltage = "1000 V"
max_series_fuse = "{dice.choice([15, 20, 25, 30])} A"
voc_tolerance = "3 %"
isc_tolerance = "3 %"
pmax_tolerance = ["0 %", "+3 %"]
""", encoding="utf-8")
    prices.append(f"{name}, {vmp * imp * dice.uniform(0.25, 0.9):.2f}, EUR")

(folder / "boxes").mkdir(parents=True, exist_ok=True)
for n in range(boxes):
    name = f"box-{n:04d}"
    # One in ten has two inputs.
    inputs = 2 if n % 10 == 9 else 1
    text = f'# Invented: no maker, no product.\nname = "{name}"\ntype = "wide-range"\n'
    power = 0.0
    for i in range(inputs):
        top = dice.choice([30, 50, 52, 60, 60, 95, 100, 145, 150, 150, 250, 450])
        amps = dice.uniform(8.0, 16.0)
        watts = round(min(0.6 * top * amps, dice.choice([200, 350, 500, 800, 1200, 2400, 5000])), -1)
        power += watts
        text += f"""
[[input]]
name = "PV{i + 1}"
max_voltage = "{top} V"
tracking_min = "{max(11.0, 0.2 * top):.1f} V"
tracking_max = "{0.95 * top:.1f} V"
start_voltage = "{max(12.0, 0.25 * top):.1f} V"
max_current = "{amps:.1f} A"
max_power = "{watts:.0f} W"
over_current = "{dice.choice(['clips', 'clips', 'do-not-exceed'])}"
"""
    (folder / "boxes" / f"{name}.toml").write_text(text, encoding="utf-8")
    prices.append(f"{name}, {100 + power * dice.uniform(0.2, 0.9):.2f}, EUR")

(folder / "prices.csv").write_text("file, price, currency\n" + "\n".join(prices) + "\n", encoding="utf-8")
(folder / "site.toml").write_text('[site]\ncoldest_air = "-14 °C"\nhottest_air = "36 °C"\nmounting = "open-rack"\npeak_irradiance = "1000 W/m²"\n', encoding="utf-8")
