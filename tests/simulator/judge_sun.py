"""What place, plane and clock are worth to `plait explain` on logs without a light sensor, and what global light turned onto the
plane is worth: the judge's scenes (judge_logs.py), each at a place and on a plane of its own, explained with and without.

    python3 tests/simulator/judge_sun.py build/dev/plait                     every scene, seeds kept from tuning
    python3 tests/simulator/judge_sun.py build/dev/plait --seeds 101         seeds for tuning
    python3 tests/simulator/judge_sun.py build/dev/plait --short             what the tests run
    python3 tests/simulator/judge_sun.py build/dev/plait --write docs/explain.md
"""
import argparse
import concurrent.futures
import pathlib
import sys
import tempfile

from judge_logs import LACKING, Verdict, explained, percent, seeds_of  # leaves with 4 where numpy is missing
import scenes

BARE = LACKING["volts and amps only"]
WATTS = LACKING["nothing but watts"]
# What a log has, and what of light: nothing, the place, global light with the place, a sensor on the plane.
COLUMNS = {"all but light": ["irradiance"], "volts and amps": BARE, "watts": WATTS}
LIGHT = {"no light": ["global", "place"], "no light, but the place": ["global"], "global light": [], "a sensor on the plane": ["global"]}
KEPT_SEEDS = range(911, 913)
SHORT_SCENES = {"healthy", "power-limit", "tripped", "battery"}


def lacking_of(columns, light):
    lacks = [c for c in COLUMNS[columns] if c != "irradiance"]
    return lacks + LIGHT[light] + ([] if light == "a sensor on the plane" else ["irradiance"])


def one(job):
    plait, scene, seed, bias, cases = job
    log = scenes.made_log(scene, seed, bias, placed=True)
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for case in cases:
            verdict = Verdict()
            charged = explained(plait, log, lacking_of(*case), folder)[0]
            verdict.add(log, charged)
            untold = charged.get("untold", 0.0)
            verdict.untold = float(sum(untold)) / 60.0 if hasattr(untold, "__len__") else 0.0
            verdict.lost = float((sum(log.possible_w) - sum(log.drawn_w))) / 60.0
            found[case] = verdict
    return scene.name, found


def main():
    p = argparse.ArgumentParser()
    p.add_argument("plait")
    p.add_argument("--seeds", type=seeds_of, default=KEPT_SEEDS)
    p.add_argument("--scenes", default="")
    p.add_argument("--bias", type=float, default=0.04)
    p.add_argument("--columns", action="append", choices=list(COLUMNS))
    p.add_argument("--light", action="append", choices=list(LIGHT))
    p.add_argument("--short", action="store_true")
    p.add_argument("--show", action="store_true")
    p.add_argument("--write")
    p.add_argument("--jobs", type=int, default=2)
    o = p.parse_args()
    wanted = SHORT_SCENES if o.short else set(o.scenes.split(",")) if o.scenes else {s.name for s in scenes.SCENES}
    chosen = [s for s in scenes.SCENES if s.name in wanted]
    columns = o.columns or (["all but light"] if o.short else list(COLUMNS))
    cases = [(c, l) for c in columns for l in (o.light or LIGHT)]
    seeds = range(951, 952) if o.short else o.seeds
    work = [(o.plait, scene, seed, o.bias, cases) for scene in chosen for seed in seeds]
    totals, healthy, untold = {c: Verdict() for c in cases}, {c: Verdict() for c in cases}, {c: 0.0 for c in cases}
    with concurrent.futures.ProcessPoolExecutor(o.jobs) as pool:
        for name, found in pool.map(one, work):
            for case, verdict in found.items():
                totals[case].merge(verdict)
                untold[case] += verdict.untold
                if name == "healthy":
                    healthy[case].merge(verdict)
                if o.show:
                    print(f"    {name:32} {case[0]:15} {case[1]:24} right {100 * verdict.right_ratio():5.1f} % false {100 * verdict.false_ratio():5.2f} % "
                          f"untold {verdict.untold:6.0f} Wh {verdict.blamed()} "
                          f"{({k: round(v) for k, v in verdict.false.items() if v > 0.003 * verdict.possible})}")
    lines = ["| columns | light | right | false | false on healthy days | cannot be told, of what was possible |", "|---|---|---|---|---|---|"]
    for case in cases:
        t = totals[case]
        lines.append(f"| {case[0]} | {case[1]} | {percent(t.right_ratio())} | {percent(t.false_ratio(), 1)} | {percent(healthy[case].false_ratio(), 2)} | "
                     f"{percent(untold[case] / max(t.possible, 1e-9))} |")
    text = "\n".join(lines)
    print(text)
    if o.short:
        before, place, turned = (totals[("all but light", l)] for l in ("no light", "no light, but the place", "global light"))
        good = (place.right_ratio() >= before.right_ratio() and turned.right_ratio() > before.right_ratio()
                and place.false_ratio() <= before.false_ratio() + 0.005 and healthy[("all but light", "global light")].false_ratio() <= 0.01)
        print("good" if good else "NOT good enough")
        sys.exit(0 if good else 1)
    if o.write:
        path = pathlib.Path(o.write)
        begin, end = "<!-- the sun judge's table -->\n", "<!-- end of the sun's -->"
        before, rest = path.read_text().split(begin)
        path.write_text(before + begin + text + "\n" + end + rest.split(end)[1])


if __name__ == "__main__":
    main()
