#!/usr/bin/env python3
"""Holds every JSON report of the demo against docs/report.schema.json. Usage: report_schema.py <plait> <source folder>"""

import copy
import datetime
import json
import math
import pathlib
import subprocess
import sys
import tempfile

try:
    import jsonschema
except ImportError:
    print("SKIPPED: Python's module jsonschema is missing (Debian: python3-jsonschema)")
    sys.exit(77)

plait, source = sys.argv[1], pathlib.Path(sys.argv[2])
failures = []


def refuse_constant(word):
    raise ValueError(f"{word} is no JSON")


def report(*arguments):
    """The parsed report, or None when the program says with exit code 2 that it cannot."""
    ran = subprocess.run([plait, *arguments, "--json"], cwd=source, capture_output=True, check=False)
    if ran.returncode == 2:
        return None
    if ran.returncode not in (0, 1) or ran.stderr:
        failures.append(f"plait {' '.join(arguments)}: exit code {ran.returncode}: {ran.stderr.decode()}")
        return None
    return json.loads(ran.stdout.decode("utf-8"), parse_constant=refuse_constant)


def walk(node, path="#"):
    """Every object of the schema lists its keys, asks for all of them and describes each."""
    if isinstance(node, list):
        for i, part in enumerate(node):
            walk(part, f"{path}/{i}")
    if not isinstance(node, dict):
        return
    if "properties" in node and isinstance(node.get("type"), str):
        if node.get("additionalProperties") is not False:
            failures.append(f"{path}: additionalProperties is not false")
        if node.get("required") != list(node["properties"]):
            failures.append(f"{path}: not every key is required")
        for key, value in node["properties"].items():
            text = value.get("description", "")
            if not text:
                failures.append(f"{path}/{key}: no description")
            units = {"_v": "V", "_a": "A", "_w": "W", "_degc": "°C", "_per_k": "1/K", "_ohm": "Ω", "_w_per_m2": "W/m²",
                     "_ratio": "ratio", "_mm2": "mm²", "_m": "m", "_ohm_per_m": "Ω/m"}
            for ending, unit in units.items():
                if key.endswith(ending) and unit not in text:
                    failures.append(f"{path}/{key}: the description does not name the unit {unit}")
    for key, value in node.items():
        walk(value, f"{path}/{key}")


schema = json.loads((source / "docs/report.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
walk(schema["$defs"])
# One command at a time: the messages then name the key instead of "matches none of six".
validators = {
    command: jsonschema.Draft202012Validator({"$ref": f"#/$defs/{command}", "$defs": schema["$defs"]})
    for command in ("check", "arrange", "charge", "climate", "compare", "curve", "panel", "expect", "explain", "learn", "learn-plan", "match",
                    "match-input", "match-lines", "match-pair", "parts", "refused", "steps")
}
validators["harvest"] = jsonschema.Draft202012Validator({"$ref": "#/$defs/harvest_report", "$defs": schema["$defs"]})
whole = jsonschema.Draft202012Validator(schema)

documents = []
for path in sorted((source / "docs/demo").glob("*.toml")):
    demo = path.relative_to(source).as_posix()
    kind = " roof" if path.stem == "mixed" else ""
    found = [report("check", demo)]
    found += [report("check", demo, "--wiring", wiring + kind) for wiring in ("1s1p", "2s1p", "6s1p", "2s4p")]
    found += [report("arrange", demo), report("arrange", demo, "--all")]
    found += [report(command, demo, *more) for command in ("parts", "steps") for more in ((), ("--wiring", "2s1p" + kind))]
    for must in (0, 2, 5, 6, 7, 8, 9, 10):
        if found[must] is None:
            failures.append(f"{demo}: report {must} is missing")
    found += [report("curve", demo, "--when", when) for when in ("cold-bright", "stc", "weak-light")]
    found += [report("curve", demo, "--sun", "0", "--cell", "25 °C"), report("curve", demo, "--sun", "800", "--air", "14 °F")]
    found += [report("curve", demo, "--at", "0,10", "--wiring", "1s1p" + kind)]
    for must in range(11, 17):
        if found[must] is None:
            failures.append(f"{demo}: report {must} is missing")
    documents += [(demo, d) for d in found if d is not None]
    for weather in ([], ["--cell", "20 °C"], ["--air", "31 °C", "--sun", "820"]):
        used = found[0]["inputs"] if found[0] else []
        for reading in ([], ["array voc 3 V"], ["string 1 voc -80 V", "array isc 9 A", "display 30 V"]):
            read = [word for text in reading for word in ("--read", f"{used[0]['name']} {text}")]
            document = report("expect", demo, *weather, *read)
            if document is None:
                failures.append(f"{demo}: no expect report with {weather} {read}")
                continue
            documents.append((demo, document))
            if len((document["diagnosis"] or {"readings": []})["readings"]) != len(reading):
                failures.append(f"{demo}: not every reading is answered")
demos = [path.relative_to(source).as_posix() for path in sorted((source / "docs/demo").glob("*.toml"))]
# Not every one has a wiring that can be used, the van no prices.
for more in (demos, ["--as-wired", *demos], demos[:2]):
    document = report("compare", *more)
    if document is None:
        failures.append(f"compare {' '.join(more)}: no report")
    else:
        documents.append((f"compare {' '.join(more)}", document))
# Pairs: with prices and without, with panels that stay, none that can be used, and asked about.
for more in (("panels", "docs/demo/inputs"), ("panels", "docs/demo/inputs", "--by", "cost", "--prices", "docs/demo/prices.csv", "--site", "docs/demo/allotment.toml"),
             ("panels", "docs/demo/inputs/small-station.toml", "--by", "fill", "--on-hand", "2", "--only", "proven", "--every"),
             ("panels/rigid-600w-topcon-bifacial.toml", "docs/demo/inputs/small-station.toml", "--why", "rigid-600w-topcon-bifacial on small-station"),
             ("panels", "docs/demo/inputs", "--keep", "panels/folding-100w-mono.toml=2", "--why", "rigid-100w-poly on large-station")):
    document = report("match", *more)
    if document is None:
        failures.append(f"match {' '.join(more)}: no report")
        continue
    documents.append((f"match {' '.join(more)}", document))
    ran = subprocess.run([plait, "match", *more, "--lines"], cwd=source, capture_output=True, check=False)
    lines = [json.loads(line, parse_constant=refuse_constant) for line in ran.stdout.decode("utf-8").splitlines()]
    documents += [(f"match {' '.join(more)} --lines", line) for line in lines]
    if len(lines) != 1 + document["asked"]["pairs"]:
        failures.append(f"match {' '.join(more)} --lines: {len(lines)} lines for {document['asked']['pairs']} pairs")
for controller in ("docs/demo/inputs/small-station.toml", "docs/demo/inputs/cabin-controller.toml", "docs/demo/allotment.toml"):
    for more in ((), ("--site", "docs/demo/allotment.toml")):
        document = report("match", controller, *more)
        if document is None:
            failures.append(f"match {controller}: no report")
        else:
            documents.append((f"match {controller} {more}", document))
documents.append(("van-log", report("explain", "docs/demo/van.toml", "docs/demo/van-log.csv", "--wiring", "1s4p")))
# A place is in some of them only; the last wiring exceeds and has its figures all the same.
for arguments in ([], ["--month", "june"], ["--day", "shortest"], ["--day", "2024-06-21", "--sky", "isotropic"], ["--wiring", "PV1=2s1p; PV2=4s1p"],
                  ["--wiring", "PV1=unused; PV2=6s1p"]):
    document = report("harvest", "docs/demo/allotment.toml", *arguments)
    if document is None:
        failures.append(f"harvest {arguments}: no report")
        continue
    documents.append((f"harvest {arguments}", document))
    for account, end in [(document, "delivered_wh")] + [(one, "taken_wh") for one in document["inputs"]]:
        off = account["ideal_wh"] - sum(loss["lost_wh"] for loss in account["losses"]) - account[end]
        if abs(off) > 1e-9 * account["ideal_wh"]:
            failures.append(f"harvest {arguments}: the account is {off} Wh off")
    parts = sum(part["delivered_wh"] for part in document["parts"])
    if abs(parts - document["delivered_wh"]) > 1e-9 * document["delivered_wh"]:
        failures.append(f"harvest {arguments}: the parts come to {parts} Wh, the whole to {document['delivered_wh']} Wh")
documents += [(f"{command} by {by}", report(command, *files, "--by", by)) for by in ("year", "day") for command, files in
              (("arrange", ["docs/demo/allotment.toml"]), ("compare", ["docs/demo/allotment.toml", "docs/demo/allotment-one-input.toml"]))]
for path in sorted((source / "panels").glob("*.toml")):
    panel = path.relative_to(source).as_posix()
    document = report("panel", panel)
    if document is None:
        failures.append(f"{panel}: no report")
    else:
        documents.append((panel, document))

for more in ((), ("--wall", "600 W", "--at", "09:00", "--day", "12-21"), ("--to", "30 %", "--wiring", "3s1p")):
    document = report("charge", "docs/demo/hut.toml", "--from", "20 %", *more)
    if document is None:
        failures.append(f"charge {more}: no report")
    else:
        documents.append(("charge", document))

# Refusals keep to the schema too: bad usage, files that are not there, of another sort, or broken.
broken = sorted((source / "tests/input/broken").glob("*.toml"))[::5]
for arguments in [("check",), ("chekc", "docs/demo/van.toml"), ("check", "none.toml"), ("check", "panels/rigid-175w-perc.toml"), ("panel", "docs/demo/van.toml"),
                  ("learn", "docs/demo/van.toml"), ("explain", "docs/demo/van.toml", "docs/demo/prices.csv"), ("climate", "docs/demo/prices.csv"),
                  ("charge", "docs/demo/van.toml"), ("check", "docs/demo/van.toml", "--page", "docs/demo/van.toml")] + [
                      ("check", path.relative_to(source).as_posix()) for path in broken]:
    ran = subprocess.run([plait, *arguments, "--json"], cwd=source, capture_output=True, check=False)
    if ran.returncode != 2:
        failures.append(f"{arguments}: exit code {ran.returncode} instead of a refusal")
        continue
    document = json.loads(ran.stdout.decode("utf-8"), parse_constant=refuse_constant)
    documents.append((" ".join(arguments), document))
    if document["command"] != "refused" or document["exit_code"] != 2 or not ran.stderr:
        failures.append(f"{arguments}: the refusal does not say so")

sweep = "docs/demo/workshop-sweep.csv"
for arguments in ((), ("--against", "docs/demo/workshop.toml"), ("--supply-limit", "13")):
    document = report("learn", sweep, *arguments)
    if document is None:
        failures.append(f"{sweep}: no report")
    else:
        documents.append((sweep, document))

for controller in ("docs/demo/workshop.toml", "docs/demo/barn.toml"):
    document = report("learn", "--plan", controller)
    if document is None:
        failures.append(f"learn --plan {controller}: no report")
    else:
        documents.append((controller, document))

with tempfile.TemporaryDirectory() as folder:
    # A session with everything beside it: display, battery, wall, an error and a word about the recovery.
    bench = pathlib.Path(folder) / "bench.csv"
    volts = [11, 12, 14, 16, 18, 20, 22, 24, 30, 40, 50, 58, 60]
    rows = [f"{v},{0 if v in (11, 60) else min(8, 240 / v):.2f},{0 if v in (11, 60) else 0.96 * min(8 * v, 240):.0f},"
            f"{0 if v in (11, 60) else 0.93 * min(8 * v, 240):.0f},{300 if v == 40 else 0},{'error' if v == 60 else ''}" for v in volts]
    bench.write_text("V,A,display W,battery W,wall W,state\n" + "\n".join(rows) + "\nrecovered: no\n", encoding="utf-8")
    document = report("learn", str(bench), "--against", "docs/demo/workshop.toml")
    if document is None or not (document["display"] and document["efficiency"] and document["next"]):
        failures.append("a full bench session: display, efficiency or the next readings are missing")
    else:
        documents.append(("bench", document))

    # An invented station: 30 winters, a row a day.
    station = pathlib.Path(folder) / "station.csv"
    days = [datetime.date(1990, 7, 1) + datetime.timedelta(n) for n in range(30 * 365)]
    lows = [30 - 90 * math.cos(2 * math.pi * (d.timetuple().tm_yday - 18) / 365.25) + 40 * math.sin(1.7 * i) for i, d in enumerate(days)]
    station.write_text("STATION,DATE,TMIN,TMAX\n" + "".join(f"XX1,{d},{low:.0f},{low + 90:.0f}\n" for d, low in zip(days, lows)))
    document = report("climate", str(station), "--north")
    if document is None:
        failures.append("climate: no report")
    else:
        documents.append(("climate", document))

for name, document in documents:
    for error in validators[document["command"]].iter_errors(document):
        failures.append(f"{name}: {document['command']}: {error.json_path}: {error.message}")
    if not whole.is_valid(document):
        failures.append(f"{name}: {document['command']}: refused by the schema as a whole")
    for rule in [r for i in document.get("inputs", []) for r in i.get("rules", [])] + document.get("plan_rules", []):
        for at in rule["rests_on_assumptions"]:
            if at >= len(document["assumptions"]):
                failures.append(f"{name}: {rule['rule']} rests on assumption {at}, which is not there")


def bad(what, command, change):
    """A document that is wrong in one place must be refused."""
    document = copy.deepcopy(next(d for _, d in documents if d["command"] == command))
    change(document)
    if whole.is_valid(document):
        failures.append(f"a bad document passed: {what}")


if not failures:
    bad("a key nobody described", "check", lambda d: d["inputs"][0].update(colour="blue"))
    bad("a key left out", "check", lambda d: d["inputs"][0]["array"].pop("pmax_w"))
    bad("an unknown verdict", "check", lambda d: d.update(verdict="fine"))
    bad("text for a number", "check", lambda d: d["harvest"].update(cec_w="12 W"))
    bad("null for a number", "check", lambda d: d["inputs"][0]["conditions"][0].update(power_w=None))
    bad("a cable without a size", "check", lambda d: d["inputs"][0]["wires"].update(cables=[{"number": 1}]))
    bad("a fuse nobody needs to know of", "check", lambda d: d["inputs"][0]["wires"].update(string_fuses=[]))
    bad("a part of no sort", "parts", lambda d: d["parts"][0].update(item="spade"))
    bad("a step without words", "steps", lambda d: d["connect"][0].pop("text"))
    bad("no caution", "check", lambda d: d.update(cautions=[]))
    bad("another version", "arrange", lambda d: d.update(schema_version=1))
    bad("another command", "arrange", lambda d: d.update(command="panel"))
    bad("half a panel", "arrange", lambda d: d["plans"][0].update(panels_used=1.5))
    bad("less than nothing lost", "arrange", lambda d: d["plans"][0].update(lost_ratio=-0.1))
    bad("a fault nobody described", "expect", lambda d: d["inputs"][0]["faults"][0].update(fault="gremlins"))
    bad("a band without an end", "expect", lambda d: d["inputs"][0]["expected"][0].pop("high"))
    bad("a string before the first", "expect", lambda d: d["inputs"][0]["expected"][0]["at"].update(string=0))
    bad("an unknown technology", "panel", lambda d: d["panel"].update(technology="moonlight"))
    bad("a resistance below nothing", "panel", lambda d: d["curve"].update(series_resistance_ohm=-1.0))
    bad("a mark nobody knows", "curve", lambda d: d["inputs"][0]["points"][0].update(marks=["left"]))
    bad("no point", "curve", lambda d: d["inputs"][0].update(points=[]))
    bad("null for a current", "curve", lambda d: d["inputs"][0]["points"][0].update(current_a=None))
    bad("a share left out", "curve", lambda d: d["inputs"][0]["at_best"].pop("lost_w"))
    bad("a limit of no sort", "charge", lambda d: d["intervals"][0].update(limit="lazy"))
    bad("a limit left out", "charge", lambda d: d["day"]["limited_h"].pop("cold"))
    bad("more than full", "charge", lambda d: d["run"].update(end_ratio=1.2))
    bad("a set-up alone", "compare", lambda d: d.update(setups=d["setups"][:1]))
    bad("a loss of no name", "harvest", lambda d: d["losses"][0].update(id="gremlins"))
    bad("a thirteenth month", "harvest", lambda d: d["parts"][0].update(month=13))
    bad("a loss left out", "compare", lambda d: d["setups"][0]["plan"]["account"].pop("mismatch_w"))
    bad("a cost of nothing", "compare", lambda d: d["setups"][0]["plan"]["cost"].update(total=0))
    bad("a leader before the first", "compare", lambda d: d.update(most_harvest=[-1]))
    bad("a complaint of no kind", "refused", lambda d: d["complaints"][0].update(code="gremlins"))
    bad("a refusal without a complaint", "refused", lambda d: d.update(complaints=[]))
    bad("a line before the first", "refused", lambda d: d["complaints"][0].update(line=0))
    bad("a piece of no kind", "learn", lambda d: d["pieces"][0].update(kind="curved"))
    bad("an interval with one end", "learn", lambda d: d["pieces"][0].update(likely_a=[1.0]))
    bad("a pair settled by a guess", "match-pair", lambda d: d.update(settled="guessed"))
    bad("a pair that is not there", "match", lambda d: d["asked"].update(pairs=0))
    bad("a band without an end", "match-input", lambda d: d["inputs"][0]["bands"][0].pop("band_to_v"))
    if whole.is_valid({}) or whole.is_valid([]):
        failures.append("a bad document passed: an empty one")

for failure in failures:
    print("FAILED:", failure)
print(f"{len(documents)} reports, {len(failures)} failures")
sys.exit(1 if failures else 0)
