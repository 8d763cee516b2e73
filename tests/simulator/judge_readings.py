"""Holds `plait expect` against meter readings of arrays in which one known thing is wrong, made by other physics.

    python3 tests/simulator/judge_readings.py build/dev/plait                   seeds kept from tuning
    python3 tests/simulator/judge_readings.py build/dev/plait --seeds 1-20      seeds for tuning
    python3 tests/simulator/judge_readings.py build/dev/plait --short           what the tests run
    python3 tests/simulator/judge_readings.py build/dev/plait --write docs/commissioning.md

Cells are those of de_soto.py. Panels differ from their datasheet by up to 2 % in amps and 1 % in volts, light is read up to 3 %
wrong, the cells' temperature 2 K, each reading of the meter half a per cent. *First two* is the share of arrays in which the fault
is one of the two likeliest explanations, *nothing found* that in which nothing wrong or none of the list comes before all faults.
"""
import argparse
import concurrent.futures
import json
import pathlib
import subprocess
import sys
import tempfile
import zlib

try:
    import numpy as np
except ModuleNotFoundError:
    print("skipped: python3-numpy is not installed")
    sys.exit(4)

from de_soto import PANELS, datasheet, group_volts

KEPT_SEEDS = range(3001, 3041)
SHORT_SEEDS = range(3101, 3107)
AMPS = np.concatenate([np.linspace(-15.0, -0.05, 900), np.linspace(-0.04, 0.04, 41), np.linspace(0.05, 15.0, 900)])


def string_volts(string, light, degc):
    """Volts over `AMPS`; a string is a list of (panel, turned round, groups bypassed)."""
    total = np.zeros_like(AMPS)
    for panel, turned, bypassed in string:
        cells = panel.cells // panel.diodes
        at = -AMPS[::-1] if turned else AMPS
        volts = (panel.diodes - bypassed) * group_volts(panel, [(cells, light)], degc, at) - bypassed * 0.02 * at
        total += -volts[::-1] if turned else volts
    return total


def open_volts(volts):
    return float(np.interp(0.0, AMPS, volts))


def short_amps(volts):
    return float(np.interp(0.0, -volts, AMPS))  # volts fall


def joined(strings):
    """Volts over AMPS of strings side by side; their currents add up at one voltage."""
    grid = np.linspace(-60.0, 400.0, 24001)
    amps = sum(np.interp(-grid, -v, AMPS) for v in strings)
    return grid, amps


def joined_open(strings):
    grid, amps = joined(strings)
    return float(np.interp(0.0, -amps, grid))


def joined_short(strings):
    grid, amps = joined(strings)
    return float(np.interp(0.0, grid, amps))


class Case:
    """An array as it is planned, and as it hangs there."""

    def __init__(self, fault, seed):
        self.dice = dice = np.random.default_rng([seed, zlib.crc32(fault.encode())])
        self.kind, self.other = [PANELS[i] for i in dice.choice(len(PANELS), 2, replace=False)]
        self.series, self.parallel = int(dice.integers(2, 5)), int(dice.integers(2, 4))
        self.light, self.degc = dice.uniform(450.0, 1000.0), dice.uniform(15.0, 60.0)
        if fault == "light":
            self.light = dice.uniform(600.0, 1050.0)
        off = lambda p: p.scaled(1.0 + dice.uniform(-0.02, 0.02), 1.0 + dice.uniform(-0.01, 0.01), 1.0)
        self.real, self.real_other = off(self.kind), off(self.other)
        self.strings = [[(self.real, False, 0)] * self.series for _ in range(self.parallel)]
        self.sun = self.light * (1.0 + dice.uniform(-0.03, 0.03))
        self.warm = self.degc + dice.uniform(-2.0, 2.0)
        self.volts_factor = self.amps_factor = 1.0

    def setup(self):
        lines = ['title = "Made up"']
        for name, p, count in (("plan", self.kind, self.series * self.parallel), ("other", self.other, 4)):
            s = datasheet(p)
            lines += ["", "[[panel]]", f'id = "{name}"', f"count = {count}", f'name = "{p.name}"', f'technology = "{p.technology}"',
                      f"cells_in_series = {p.cells}", f"bypass_diodes = {p.diodes}", f'pmax = "{s["pmax"]:.0f} W"', f'vmp = "{s["vmp"]} V"',
                      f'imp = "{s["imp"]} A"', f'voc = "{s["voc"]} V"', f'isc = "{s["isc"]} A"', f'isc_coefficient = "{s["isc_per_k"]} %/K"',
                      f'voc_coefficient = "{s["voc_per_k"]} %/K"', f'pmax_coefficient = "{s["pmax_per_k"]} %/K"',
                      f'noct = "{p.noct_degc:.0f} °C"', 'max_system_voltage = "1000 V"']
        lines += ["", "[controller]", 'name = "Made up"', 'type = "wide-range"']
        for name in ("PV1", "PV2"):
            lines += ["", "[[controller.input]]", f'name = "{name}"', 'max_voltage = "480 V"', 'tracking_min = "12 V"', 'tracking_max = "450 V"',
                      'max_current = "60 A"', 'over_current = "clips"']
        lines += ["", "[site]", 'mounting = "open-rack"', "", "[wiring]", f'PV1 = "{self.series}s{self.parallel}p plan"', 'PV2 = "1s1p other"']
        return "\n".join(lines) + "\n"

    def readings(self, amps):
        see = lambda x: x * (1.0 + self.dice.normal(0.0, 0.0025))
        volts = [string_volts(s, self.light, self.degc) for s in self.strings]
        out = [f"PV1 string {k + 1} voc {self.volts_factor * see(open_volts(v)):.3g} V" if abs(self.volts_factor) < 0.01 else
               f"PV1 string {k + 1} voc {self.volts_factor * see(open_volts(v)):.2f} V" for k, v in enumerate(volts)]
        if amps:
            out += [f"PV1 string {k + 1} isc {self.amps_factor * see(short_amps(v)):.4f} A" for k, v in enumerate(volts)]
            out.append(f"PV1 array isc {self.amps_factor * see(joined_short(volts)):.4f} A")
        return out


def other_kind(c):
    c.strings[1][0] = (c.real_other, False, 0)


def other_kind_all(c):
    c.strings[1] = [(c.real_other, False, 0)] * c.series


def one_more_everywhere(c):
    c.strings = [s + [s[0]] for s in c.strings]


def one_less_everywhere(c):
    c.strings = [s[1:] for s in c.strings]


def volts_range(c):
    c.volts_factor = float(c.dice.choice([0.001, 10.0, 0.1]))  # a thousandfold is refused, with the unit named


def amps_range(c):
    c.amps_factor = float(c.dice.choice([0.001, 10.0, 0.1]))


def light(c):
    c.sun /= c.dice.uniform(1.4, 1.6)


def reversed_string(c):
    c.strings[0] = [(p, not turned, b) for p, turned, b in c.strings[0]]


def reversed_panel(c):
    p, _, b = c.strings[0][0]
    c.strings[0][0] = (p, True, b)


def missing_panel(c):
    c.strings[0] = c.strings[0][1:]


def shorted_diode(c):
    c.strings[0][0] = (c.real, False, 1)


# name: (fault as the program calls it, what is done, which kinds of reading may show it)
FAULTS = {
    "one panel of another kind": ("panel-of-other-kind", other_kind, (False, True)),
    "a string of another kind": ("panel-of-other-kind", other_kind_all, (False, True)),
    "a panel too many in every string": ("strings-long", one_more_everywhere, (False, True)),
    "a panel too few in every string": ("strings-short", one_less_everywhere, (False, True)),
    "volts in the wrong range": ("meter-range", volts_range, (False, True)),
    "amps in the wrong range": ("meter-range", amps_range, (True,)),
    "light half as strong again as typed": ("light-differs", light, (True,)),
    "a string reversed": ("string-reversed", reversed_string, (False, True)),
    "a panel reversed": ("panel-reversed", reversed_panel, (False, True)),
    "a panel missing": ("panel-missing", missing_panel, (False, True)),
    "a bypass diode shorted": ("group-bypassed", shorted_diode, (False, True)),
}


def one(job):
    plait, name, amps, seed, show = job
    fault, do, _ = FAULTS[name]
    c = Case("light" if name.startswith("light") else name, seed)
    do(c)
    readings = c.readings(amps)
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, "setup.toml")
        path.write_text(c.setup())
        words = [w for r in readings for w in ("--read", r)]
        run = subprocess.run([plait, "expect", str(path), "--json", "--sun", f"{c.sun:.0f}", "--cell", f"{c.warm:.1f} °C", *words],
                             capture_output=True, text=True)
    if run.returncode not in (0, 1):
        raise RuntimeError(run.stderr)
    d = json.loads(run.stdout)["diagnosis"]
    order = []
    for s in d["suspects"]:
        if s["fault"] not in order:
            order.append(s["fault"])
    best = max((s["probability_ratio"] for s in d["suspects"]), default=0.0)
    nothing = max(d["nothing_wrong_ratio"], d["unknown_ratio"]) > best
    if show and (fault not in order[:2] or nothing):
        print(f"    {name} seed {seed}{' with amps' if amps else ''}: {c.kind.name} {c.series}s{c.parallel}p, other {c.other.name}: {order} "
              f"sound {d['nothing_wrong_ratio']:.2g} unknown {d['unknown_ratio']:.2g} {readings}")
    return name, amps, fault in order[:2], nothing


def main():
    p = argparse.ArgumentParser()
    p.add_argument("plait")
    p.add_argument("--seeds", default="")
    p.add_argument("--short", action="store_true")
    p.add_argument("--show", action="store_true")
    p.add_argument("--write")
    p.add_argument("--jobs", type=int, default=2)
    o = p.parse_args()
    seeds = SHORT_SEEDS if o.short else KEPT_SEEDS
    if o.seeds:
        first, _, last = o.seeds.partition("-")
        seeds = range(int(first), int(last or first) + 1)
    found = {}
    jobs = [(o.plait, name, amps, seed, o.show) for name, (_, _, kinds) in FAULTS.items() for amps in kinds for seed in seeds]
    with concurrent.futures.ProcessPoolExecutor(o.jobs) as pool:
        for name, amps, right, nothing in pool.map(one, jobs, chunksize=4):
            found.setdefault((name, amps), []).append((right, nothing))
    share = lambda key, i: f"{100 * sum(x[i] for x in found[key]) / len(found[key]):.0f} %" if key in found else ""
    lines = ["| what is wrong | volts alone: first two | nothing found | volts and amps: first two | nothing found |", "|---|---|---|---|---|"]
    for name in FAULTS:
        lines.append(f"| {name} | {share((name, False), 0)} | {share((name, False), 1)} | {share((name, True), 0)} | {share((name, True), 1)} |")
    print("\n".join(lines))
    if o.short:
        everything = [x[0] for f in found.values() for x in f]
        sys.exit(0 if sum(everything) >= 0.93 * len(everything) else 1)
    if o.write:
        path = pathlib.Path(o.write)
        begin, end = "<!-- the judge's table -->\n", "<!-- end of it -->"
        before, rest = path.read_text().split(begin)
        path.write_text(before + begin + "\n".join(lines) + "\n" + end + rest.split(end)[1])


if __name__ == "__main__":
    main()
