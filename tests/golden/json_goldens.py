#!/usr/bin/env python3
"""Holds the JSON of every demo against the files in tests/golden/json.

Usage: json_goldens.py <plait> <source folder> [--refresh]. After a change look at the difference before you keep it.

Numbers are kept to nine significant digits and compared to 1e-8 (and to 1e-9 near zero), so that every compiler gives the same;
sentences, which the text goldens hold and which change more often, are only there or not.
"""

import json
import math
import pathlib
import subprocess
import sys

plait, source = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2])
refresh = "--refresh" in sys.argv
folder = source / "tests/golden/json"
longest_text, sentence = 40, "…"
failures = []

DEMOS = {
    "allotment-check": (1, "check docs/demo/allotment.toml"),
    "allotment-four-large-check": (0, "check docs/demo/allotment-four-large.toml"),
    "allotment-one-input-check": (0, "check docs/demo/allotment-one-input.toml"),
    "barn-check": (0, "check docs/demo/barn.toml"),
    "cabin-direct-check": (1, "check docs/demo/cabin-direct.toml"),
    "hut-check": (0, "check docs/demo/hut.toml"),
    "mixed-check": (1, "check docs/demo/mixed.toml"),
    "shaded-check": (0, "check docs/demo/shaded.toml"),
    "van-check": (0, "check docs/demo/van.toml"),
    "workshop-check": (1, "check docs/demo/workshop.toml"),
    "allotment-arrange": (0, "arrange docs/demo/allotment.toml --top 2"),
    "mixed-arrange": (1, "arrange docs/demo/mixed.toml --top 1 --trade-offs"),
    "allotment-arrange-year": (0, "arrange docs/demo/allotment.toml --top 1 --by year"),
    "carport-check": (0, "check docs/demo/carport.toml"),
    "carport-curve": (0, "curve docs/demo/carport.toml --points 7"),
    "shaded-curve": (0, "curve docs/demo/shaded.toml --points 7"),
    "barn-parts": (0, "parts docs/demo/barn.toml"),
    "barn-steps": (0, "steps docs/demo/barn.toml"),
    "van-expect": (0, "expect docs/demo/van.toml|--air|31 °C|--sun|820"),
    "van-expect-reversed": (1, "expect docs/demo/van.toml|--cell|47 °C|--sun|820|--read|string 1 voc -43.5 V|--read|string 2 voc 43.9 V"),
    "demo-compare": (0, "compare docs/demo/allotment.toml docs/demo/allotment-one-input.toml docs/demo/allotment-four-large.toml"),
    "allotment-harvest": (1, "harvest docs/demo/allotment.toml --day 12-21"),
    "hut-charge": (0, "charge docs/demo/hut.toml|--from|20 %|--day|12-21"),
    "demo-match": (1, "match panels docs/demo/inputs --top 1 --site docs/demo/van.toml"),
    "small-station-wants": (0, "match docs/demo/inputs/small-station.toml --site docs/demo/van.toml"),
    "panel": (0, "panel panels/rigid-175w-perc.toml"),
    "workshop-learn": (0, "learn docs/demo/workshop-sweep.csv --against docs/demo/workshop.toml"),
    "workshop-plan": (0, "learn --plan docs/demo/workshop.toml"),
    "van-explain": (0, "explain docs/demo/van.toml docs/demo/van-log.csv --wiring 1s4p"),
    "refused": (2, "check panels/rigid-175w-perc.toml"),
}


def kept(value):
    """What is kept of a value."""
    if isinstance(value, dict):
        return {key: kept(part) for key, part in value.items()}
    if isinstance(value, list):
        return [kept(part) for part in value]
    if isinstance(value, float):
        return float(f"{value:.9g}")
    if isinstance(value, str) and len(value) > longest_text:
        return sentence
    return value


def laid_out(value, indent=0, width=120):
    """JSON with everything on one line that fits on it."""
    line = json.dumps(value, ensure_ascii=False)
    if len(line) + indent <= width or not isinstance(value, (dict, list)) or not value:
        return line
    pad, inner = " " * indent, " " * (indent + 1)
    if isinstance(value, dict):
        parts = [f"{inner}{json.dumps(key, ensure_ascii=False)}: {laid_out(part, indent + 1, width)}" for key, part in value.items()]
        return "{\n" + ",\n".join(parts) + f"\n{pad}}}"
    parts = [inner + laid_out(part, indent + 1, width) for part in value]
    return "[\n" + ",\n".join(parts) + f"\n{pad}]"


def differences(golden, now, path=""):
    """Where the two differ, a line each."""
    if isinstance(golden, dict) and isinstance(now, dict):
        for key in list(golden) + [k for k in now if k not in golden]:
            if key not in now or key not in golden:
                yield f"{path}/{key}: only in the {'golden' if key in golden else 'report'}"
            else:
                yield from differences(golden[key], now[key], f"{path}/{key}")
    elif isinstance(golden, list) and isinstance(now, list):
        if len(golden) != len(now):
            yield f"{path}: {len(golden)} entries, now {len(now)}"
        for i, (a, b) in enumerate(zip(golden, now)):
            yield from differences(a, b, f"{path}/{i}")
    elif isinstance(golden, bool) or isinstance(now, bool) or not isinstance(golden, (int, float)) or not isinstance(now, (int, float)):
        if golden != now or type(golden) is not type(now):
            yield f"{path}: {golden!r}, now {now!r}"
    elif not math.isclose(golden, now, rel_tol=1e-8, abs_tol=1e-9):
        yield f"{path}: {golden!r}, now {now!r}"


for name, (exit_code, typed) in DEMOS.items():
    arguments = [word for part in typed.split("|")[:1] for word in part.split()] + typed.split("|")[1:]
    ran = subprocess.run([plait, *arguments, "--json"], cwd=source, capture_output=True, check=False)
    if ran.returncode != exit_code:
        failures.append(f"{name}: exit code {ran.returncode} instead of {exit_code}: {ran.stderr.decode()}")
        continue
    try:
        now = kept(json.loads(ran.stdout))
    except ValueError as trouble:
        failures.append(f"{name}: no JSON: {trouble}")
        continue
    file = folder / f"{name}.json"
    if refresh:
        file.write_text(laid_out(now) + "\n", encoding="utf-8")
        continue
    if not file.exists():
        failures.append(f"{name}: tests/golden/json/{name}.json is missing; run again with --refresh")
        continue
    found = list(differences(json.loads(file.read_text(encoding="utf-8")), now))
    failures += [f"{name}: {difference}" for difference in found[:20]]
    if len(found) > 20:
        failures.append(f"{name}: and {len(found) - 20} more")

for stray in sorted(folder.glob("*.json")):
    if stray.stem not in DEMOS:
        failures.append(f"tests/golden/json/{stray.name} belongs to no demo")
for demo in sorted((source / "docs/demo").glob("*.toml")):
    if f"{demo.stem}-check" not in DEMOS:
        failures.append(f"{demo.name} has no golden; add it to DEMOS")

for failure in failures:
    print("FAILED:", failure)
print(f"{len(DEMOS)} documents, {len(failures)} failures")
sys.exit(1 if failures else 0)
