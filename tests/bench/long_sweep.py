#!/usr/bin/env python3
"""A bench sweep of so many rows (10 000 000 if none are named): an input that takes 8 A up to 30 V and 240 W above, from 12 to 58 V and back."""

import sys

rows = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000_000
out = sys.stdout.write
out("V,A\n")
state = 1
chunk = []
for i in range(rows):
    state = (state * 1103515245 + 12345) & 0x7FFFFFFF
    share = 2 * i / rows
    volts = 12 + 46 * (share if share < 1 else 2 - share)
    amps = min(8.0, 240 / volts) * (1 + (state / 0x7FFFFFFF - 0.5) * 0.02)
    chunk.append(f"{volts:.3f},{amps:.3f}\n")
    if len(chunk) == 10000:
        out("".join(chunk))
        chunk.clear()
out("".join(chunk))
