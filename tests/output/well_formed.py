#!/usr/bin/env python3
"""Reads every kind of picture with an XML parser: those of the documentation, and those of a set-up whose names are as
bad as names can be. Each must say in words what it shows. Usage: well_formed.py <plait> <source folder>"""

import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

plait, source = sys.argv[1], pathlib.Path(sys.argv[2])
svg = "{http://www.w3.org/2000/svg}"
failures = []

nasty = "</script>&\\\"'<b>]]><!-- לוח --"
setup = f'''
title = "{nasty}"
[[panel]]
id = "a"
count = 8
name = "{nasty}"
technology = "mono"
cells_in_series = 36
bypass_diodes = 2
pmax = "100 W"
vmp = "20 V"
imp = "5 A"
voc = "24 V"
isc = "5.5 A"
isc_coefficient = "0.05 %/K"
voc_coefficient = "-0.3 %/K"
pmax_coefficient = "-0.4 %/K"
noct = "45 °C"
max_system_voltage = "600 V"
max_series_fuse = "15 A"
[controller]
name = "Box"
type = "wide-range"
[[controller.input]]
name = "{nasty}"
max_voltage = "100 V"
tracking_min = "10 V"
tracking_max = "90 V"
max_current = "20 A"
max_power = "600 W"
over_current = "clips"
[[cable]]
run = "string"
name = "{nasty}"
length = "5 m"
size = "4 mm²"
[site]
latitude = -33.0
longitude = 20.0
from_utc = 2
[[plane]]
name = "{nasty}"
tilt = 30
azimuth = "N"
horizon = [[90, 10], [270, 20]]
'''


def held(name, text):
    try:
        root = xml.fromstring(text)
    except xml.ParseError as e:
        failures.append(f"{name}: not well-formed: {e}")
        return
    for part in ("title", "desc"):
        found = root.find(svg + part)
        if found is None or not (found.text or "").strip():
            failures.append(f"{name}: no {part}")
    if root.tag != svg + "svg" or root.find(f".//{svg}script") is not None:
        failures.append(f"{name}: something else than a picture is in it")
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    if len(ids) != len(set(ids)):
        failures.append(f"{name}: one id twice")


others = 0
kept = sorted((source / "docs/pictures").glob("*.svg"))
for file in kept:
    held(file.name, file.read_text(encoding="utf-8"))

with tempfile.TemporaryDirectory() as folder:
    file = pathlib.Path(folder) / "nasty.toml"
    file.write_text(setup, encoding="utf-8")
    drawn = pathlib.Path(folder) / "drawn.svg"
    for args in (
        ["check", file, "--wiring", "2s2p"],
        ["check", file, "--wiring", "2s2p", "--picture", "wiring"],
        ["curve", file, "--wiring", "2s2p"],
        ["arrange", file],
        ["arrange", file, "--picture", "wiring"],
        ["arrange", file, "--picture", "trade-offs"],
        ["harvest", file, "--wiring", "2s2p"],
        ["harvest", file, "--wiring", "2s2p", "--picture", "carpet"],
        ["harvest", file, "--wiring", "2s2p", "--picture", "horizon"],
        ["harvest", file, "--wiring", "2s2p", "--day", "june"],
    ):
        words = " ".join(str(a) for a in args)
        drawn.unlink(missing_ok=True)
        ran = subprocess.run([plait, *map(str, args), "--svg", str(drawn)], capture_output=True, text=True)
        if ran.returncode not in (0, 1) or not drawn.exists():
            failures.append(f"{words}: {ran.returncode}: {ran.stderr}")
            continue
        others += 1
        held(words, drawn.read_text(encoding="utf-8"))

# The check itself must be able to fail.
before = len(failures)
held("made wrong", "<svg xmlns='http://www.w3.org/2000/svg'><title>a</title><desc>b</desc><text>&</text></svg>")
held("made silent", "<svg xmlns='http://www.w3.org/2000/svg'><title>a</title></svg>")
if len(failures) != before + 2:
    failures.append("a picture that is not well-formed, or has no words, was not seen")
else:
    del failures[before:]

for f in failures:
    print(f, file=sys.stderr)
print(f"{len(kept)} pictures of the documentation and {others} others read")
sys.exit(1 if failures else 0)
