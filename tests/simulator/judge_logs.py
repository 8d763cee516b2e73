"""Holds `plait explain` against made-up logs whose truth is known, and says how much of the lost energy is charged rightly.

    python3 tests/simulator/judge_logs.py build/dev/plait                    every scene, seeds kept from tuning
    python3 tests/simulator/judge_logs.py build/dev/plait --seeds 101-103    seeds for tuning
    python3 tests/simulator/judge_logs.py build/dev/plait --short            what the tests run
    python3 tests/simulator/judge_logs.py build/dev/plait --write docs/explain.md

Right is, in the rows of a true cause, the smaller of the watt-hours charged to it and those it truly took, over what it took.
False is what is charged to causes that were not there, over what was possible.
"""
import argparse
import concurrent.futures
import csv
import io
import os
import pathlib
import subprocess
import sys
import tempfile

try:
    import numpy as np
except ModuleNotFoundError:
    print("skipped: python3-numpy is not installed")
    sys.exit(4)

import scenes

HOUR = 1.0 / 60.0  # of a row
# Not faults and not limits: charging these is no accusation.
NO_BLAME = {"less-light", "array", "heat", "scatter", "untold"}
KEPT_SEEDS = range(901, 905)
SHORT_SEEDS = range(951, 952)
SHORT_SCENES = {"healthy", "power-limit-off-print", "battery", "shade-panels-of-every-string", "shade-by-a-leaf",
                "tracker-on-a-local-maximum", "tracker-at-a-fixed-voltage"}
HEADERS = {"voltage": "PV voltage (V)", "current": "PV current (A)", "irradiance": "irradiance (W/m2)", "air": "air temperature (degC)",
           "panel": "panel temperature (degC)", "charge": "state of charge (%)", "wall": "wall charging (W)", "power": "PV power (W)", "global": "global horizontal irradiance (W/m2)"}
# Columns that a log lacks.
LACKING = {
    "all columns": [], "no panel temperature": ["panel"], "no temperature": ["panel", "air"], "no charge": ["charge"], "no wall": ["wall"],
    "no irradiance": ["irradiance"], "watts only": ["voltage", "current"],
    "watts only, no irradiance": ["voltage", "current", "irradiance"],
    "volts and amps only": ["irradiance", "panel", "air", "charge", "wall"],
    "nothing but watts": ["voltage", "current", "irradiance", "panel", "air", "charge", "wall"],
}


def table_of(log, lacking):
    columns = {k: v for k, v in log.columns.items() if k not in lacking}
    if "voltage" in lacking:
        columns = {"power": np.round(log.columns["voltage"] * log.columns["current"]), **columns}
    out = io.StringIO()
    out.write("time," + ",".join(HEADERS[k] for k in columns) + "\n")
    digits = {"voltage": "%.1f", "current": "%.2f", "air": "%.1f", "panel": "%.1f"}
    for k, seconds in enumerate(log.seconds):
        day, of_day = divmod(int(seconds), 86400)
        out.write(log.stamps[k] if log.stamps else f"2026-06-{20 + day}T{of_day // 3600:02d}:{of_day % 3600 // 60:02d}")
        for name, values in columns.items():
            out.write("," + digits.get(name, "%.0f") % values[k])
        out.write("\n")
    return out.getvalue()


def explained(plait, log, lacking, folder):
    setup, table = pathlib.Path(folder, "setup.toml"), pathlib.Path(folder, "log.csv")
    setup.write_text(log.placeless_setup if "place" in lacking else log.setup)
    table.write_text(table_of(log, lacking))
    run = subprocess.run([plait, "explain", str(setup), str(table), "--csv", *log.options], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        raise RuntimeError(f"{log.name}: {run.stderr}\n{log.setup}")
    rows = csv.reader(line for line in run.stdout.splitlines() if not line.startswith("#"))
    head = next(rows)
    causes = [(i, h[5:-2].replace("_", "-")) for i, h in enumerate(head) if h.startswith("lost_")]
    at_cause = head.index("cause")
    body = [r for r in rows]
    charged = {cause: np.array([float(r[i]) for r in body]) for i, cause in causes}
    return charged, [r[at_cause] for r in body]


class Verdict:
    """Watt-hours of one log, or of several."""

    def __init__(self):
        self.took, self.right, self.instead = {}, {}, {}
        self.false, self.possible = {}, 0.0

    def add(self, log, charged):
        self.possible += log.possible_w.sum() * HOUR
        for cause, took_w in log.lost_w.items():
            rows = took_w > 0.0
            took = took_w[rows].sum() * HOUR
            got = charged.get(cause, np.zeros(len(took_w)))[rows].sum() * HOUR
            self.took[cause] = self.took.get(cause, 0.0) + took
            self.right[cause] = self.right.get(cause, 0.0) + max(0.0, min(got, took))
            for other, watts in charged.items():
                # What another cause got here, beyond what was its own.
                own = log.lost_w.get(other, np.zeros(len(took_w)))[rows].sum() * HOUR
                extra = watts[rows].sum() * HOUR - own
                if other != cause and other not in ("less-light", "array", "heat"):
                    key = (cause, other)
                    self.instead[key] = self.instead.get(key, 0.0) + extra
        for cause, watts in charged.items():
            own = log.lost_w.get(cause, np.zeros(len(watts)))
            extra = watts[own <= 0.0].sum() * HOUR
            if cause not in NO_BLAME and extra > 0.0:
                self.false[cause] = self.false.get(cause, 0.0) + extra

    def merge(self, other):
        for mine, theirs in ((self.took, other.took), (self.right, other.right), (self.instead, other.instead), (self.false, other.false)):
            for key, value in theirs.items():
                mine[key] = mine.get(key, 0.0) + value
        self.possible += other.possible

    def right_ratio(self):
        took = sum(self.took.values())
        return sum(self.right.values()) / took if took > 0.0 else float("nan")

    def false_ratio(self):
        return sum(self.false.values()) / self.possible if self.possible else 0.0

    def blamed(self, count=2):
        took = sum(self.took.values())
        order = sorted(self.instead.items(), key=lambda x: -abs(x[1]))
        return ", ".join(f"{key[1]} {100 * wh / took:.0f} %" for key, wh in order[:count] if took and abs(wh) >= 0.02 * took)


def one(job):
    plait, scene, seed, bias, lackings = job
    log = scenes.made_log(scene, seed, bias)
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for name in lackings:
            verdict = Verdict()
            verdict.add(log, explained(plait, log, LACKING[name], folder)[0])
            found[name] = verdict
    return scene.name, bias, seed, found


def judged(plait, chosen, seeds, biases, lackings, jobs=2, show=False):
    """{(scene, bias, lacking): Verdict}"""
    work = [(plait, scene, seed, bias, lackings) for scene in chosen for bias in biases for seed in seeds]
    all_found = {}
    with concurrent.futures.ProcessPoolExecutor(jobs) as pool:
        for name, bias, seed, found in pool.map(one, work):
            for lacking, verdict in found.items():
                all_found.setdefault((name, bias, lacking), Verdict()).merge(verdict)
                if show:
                    print(f"    {name} seed {seed} bias {bias} {lacking}: right {100 * verdict.right_ratio():.1f} % false {100 * verdict.false_ratio():.2f} % "
                          f"{verdict.blamed(3)} | {({k: round(v) for k, v in verdict.false.items() if v > 0.003 * verdict.possible})}")
    return all_found


def percent(ratio, digits=0):
    return "" if ratio != ratio else f"{100.0 * ratio:.{digits}f} %"


def total(found, bias, lacking):
    sum_of = Verdict()
    for (name, b, l), verdict in found.items():
        if b == bias and l == lacking:
            sum_of.merge(verdict)
    return sum_of


def table(found, names, biases, lackings):
    lines = ["| what happened | " + " | ".join(f"right, {'no bias' if b == 0 else f'bias to {100 * b:.0f} %'} | false" for b in biases) + " | charged instead |",
             "|---|" + "---|" * (2 * len(biases) + 1)]
    first = lackings[0]
    for name in names:
        cells = []
        for b in biases:
            v = found[(name, b, first)]
            cells += [percent(v.right_ratio()), percent(v.false_ratio(), 1)]
        lines.append(f"| {name} | " + " | ".join(cells) + f" | {found[(name, biases[-1], first)].blamed()} |")
    cells = []
    for b in biases:
        t = total(found, b, first)
        cells += [percent(t.right_ratio(), 1), percent(t.false_ratio(), 2)]
    lines.append("| **all energy** | " + " | ".join(cells) + " | |")
    if len(lackings) > 1:
        lines += ["", "| columns | " + " | ".join(f"right, {'no bias' if b == 0 else f'bias to {100 * b:.0f} %'} | false | false on healthy days" for b in biases) + " |",
                  "|---|" + "---|" * (3 * len(biases))]
        for lacking in lackings:
            cells = []
            for b in biases:
                t, h = total(found, b, lacking), found[("healthy", b, lacking)]
                cells += [percent(t.right_ratio()), percent(t.false_ratio(), 1), percent(h.false_ratio(), 2)]
            lines.append(f"| {lacking} | " + " | ".join(cells) + " |")
    return "\n".join(lines)


def seeds_of(text):
    first, _, last = text.partition("-")
    return range(int(first), int(last or first) + 1)


def main():
    p = argparse.ArgumentParser()
    p.add_argument("plait")
    p.add_argument("--seeds", type=seeds_of, default=KEPT_SEEDS)
    p.add_argument("--scenes", default="")
    p.add_argument("--bias", type=float, action="append")
    p.add_argument("--lacking", action="append", choices=list(LACKING))
    p.add_argument("--short", action="store_true")
    p.add_argument("--show", action="store_true")
    p.add_argument("--write")
    p.add_argument("--jobs", type=int, default=2)
    o = p.parse_args()
    chosen = [s for s in scenes.SCENES if not o.scenes or s.name in o.scenes.split(",")]
    biases = o.bias or [0.0, 0.04]
    lackings = o.lacking or ["all columns"]
    if o.short:
        chosen = [s for s in chosen if s.name in SHORT_SCENES]
        found = judged(o.plait, chosen, SHORT_SEEDS, [0.04], ["all columns"], o.jobs)
        sum_of = total(found, 0.04, "all columns")
        healthy = found[("healthy", 0.04, "all columns")]
        print(table(found, [s.name for s in chosen], [0.04], ["all columns"]))
        good = sum_of.right_ratio() >= 0.93 and healthy.false_ratio() <= 0.005
        print("right", percent(sum_of.right_ratio(), 1), "false on a healthy log", percent(healthy.false_ratio(), 2), "good" if good else "NOT good enough")
        sys.exit(0 if good else 1)
    if o.write:
        lackings = list(LACKING)
    found = judged(o.plait, chosen, o.seeds, biases, lackings, o.jobs, o.show)
    text = table(found, [s.name for s in chosen], biases, lackings)
    print(text)
    if o.write:
        path = pathlib.Path(o.write)
        begin, end = "<!-- the judge's table -->\n", "<!-- end of it -->"
        before, rest = path.read_text().split(begin)
        path.write_text(before + begin + text + "\n" + end + rest.split(end)[1])


if __name__ == "__main__":
    main()
