#!/usr/bin/env python3
"""Puts faults into rules and headline, one at a time, and reports which of them the laws of tests/laws notice.

Usage: seeded_faults.py SOURCE FOLDER [--only N,N]     prints the table of docs/laws.md

All faults are in one build; PLAIT_FAULT=N switches one of them on. A fault is an expression that takes another's place:
its text must be in the file exactly once, so that a change of the file is noticed here."""

import argparse
import os
import pathlib
import shutil
import subprocess
import sys
import time

# What every changed source begins with: which of the faults is switched on.
SWITCH = """#include <cstdlib>
namespace plait_faults {
inline bool on(int number) {
    static const int chosen = [] {
        const char* text = std::getenv("PLAIT_FAULT");
        return text == nullptr ? 0 : std::atoi(text);
    }();
    return chosen == number;
}
}  // namespace plait_faults
"""

# What it is, the file, the expression, and what takes its place.
FAULTS = [
    ("the cold voltage only clips", "src/rules/cold_voltage.cpp",
     "return at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::exceeds);",
     "return at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::clips);"),
    ("the cold voltage has no tolerance", "src/rules/cold_voltage.cpp",
     "return at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::exceeds);",
     "return at_most(voc.value, Interval(voc.value), limit_v, Unit::volt, Outcome::exceeds);"),
    ("the highest string's volts are those of the lowest", "src/rules/array_figures.cpp",
     "highest.value = std::max(highest.value, sum.value);",
     "highest.value = highest.value > 0.0 ? std::min(highest.value, sum.value) : sum.value;"),
    ("the tolerance of a string's working volts is upside down", "src/rules/array_figures.cpp",
     "lowest.spread = Interval(std::min(lowest.spread.lower(), sum.spread.lower()),\n"
     "                                 std::min(lowest.spread.upper(), sum.spread.upper()));",
     "lowest.spread = Interval(std::min(lowest.spread.lower(), sum.spread.upper()),"
     " std::min(lowest.spread.upper(), sum.spread.upper()));"),
    ("the light of the brightest sky ignores the site's own", "src/rules/array_figures.cpp",
     "strongest.value = std::max({strongest.value, by_code_a, lit_a});",
     "strongest.value = std::max({strongest.value, by_code_a});"),
    ("the code table ends at its last row", "src/rules/cold_methods.cpp",
     "return last.factor + last_table_step * std::ceil((last.down_to_degc - coldest_air.degc) / table_step_k);",
     "return last.factor;"),
    ("a stated flat factor counts, whatever the curve gives", "src/rules/cold_methods.cpp",
     "v.factor = larger(v.factor, curve_factor(panel, curve, cell));", ";"),
    ("string fuses look at the best string in place of the worst", "src/rules/string_fuses.cpp",
     "(weight(here) == weight(*worst) && ratio(here) > ratio(*worst))",
     "(weight(here) == weight(*worst) && ratio(here) < ratio(*worst))"),
    ("a fuse that lets too much through is forgotten beside one that is missing", "src/rules/string_fuses.cpp",
     "return h.finding.outcome == Outcome::exceeds ? 2 : h.finding.outcome == Outcome::needs ? 1 : 0;",
     "return h.finding.outcome == Outcome::exceeds ? 1 : h.finding.outcome == Outcome::needs ? 2 : 0;"),
    ("the largest fuse is 3.4 × Isc in place of 2.4 ×", "src/rules/fuse_figures.cpp",
     "const double below_a = iec_most_factor * string.isc_a;",
     "const double below_a = (iec_most_factor + 1.0) * string.isc_a;"),
    ("one string is left out of what the others push", "src/rules/fuse_figures.cpp",
     "f.others_bright_a = all_bright_a - own.bright_a + backfeed_a;",
     "f.others_bright_a = std::max(0.0, all_bright_a - 2.0 * own.bright_a) + backfeed_a;"),
    ("the disconnect is held against volts at 25 °C", "src/rules/disconnect_rating.cpp",
     "out.push_back(at_most(voc.value, voc.spread, *s.setup.fittings.disconnect_v, Unit::volt, Outcome::exceeds));",
     "out.push_back(at_most(voc.value / 1.1, voc.spread / 1.1, *s.setup.fittings.disconnect_v, Unit::volt, Outcome::exceeds));"),
    ("a plug carries one string where it carries all", "src/rules/connector_figures.cpp",
     "c.plug_fault_a = all_a;", "c.plug_fault_a = c.leg.current_a;"),
    ("system voltage: the best panel's marking counts", "src/rules/panel_system_voltage.cpp",
     "limit_v = std::min(limit_v, s.panel(place).max_system_voltage_v);",
     "limit_v = s.panel(place).max_system_voltage_v;"),
    ("the trunk carries one string's current", "src/rules/cable_figures.cpp",
     "c.most_a = array_bright_isc_a(s, s.wiring()).value;",
     "c.most_a = string_bright_isc_a(s, s.wiring().strings.front()).value;"),
    ("a breach that is not proven is forgotten", "src/study/verdict.cpp",
     "return proven ? exceeds_proven : exceeds_unproven;", "return proven ? exceeds_proven : 0U;"),
    ("a tolerance past a limit is forgotten", "src/study/verdict.cpp", "return may_exceed;", "return 0U;"),
    ("a limit that nobody knows is taken as kept", "src/study/verdict.cpp", "return limit_unknown;", "return 0U;"),
    ("NEEDS is forgotten where the plan clips", "src/study/verdict.cpp",
     "any(needs)", "any(needs) && !any(clips)"),
    ("falling short is forgotten where the plan clips", "src/study/verdict.cpp",
     "any(short_proven | short_unproven)", "any(short_proven | short_unproven) && !any(clips)"),
    ("a doubt about what is taken is forgotten", "src/study/verdict.cpp",
     "a.intake_proven = !any(intake_doubt);", "a.intake_proven = true;"),
    ("the first line leaves the conditions out", "src/output/report/verdict_words.cpp",
     "!v.conditions.empty()", "!v.conditions.empty() && v.conditions.size() > 99"),
    ("the first line leaves the question mark out", "src/output/report/verdict_words.cpp",
     'return proven ? "" : " ?";', 'return "";'),
    ("the data leave the conditions out", "src/output/data/json_parts.cpp",
     'j["conditions"] = conditions_json(setup, v.conditions);', 'j["conditions"] = conditions_json(setup, {});'),
    ("a forbidden wiring is drawn without the word across it", "src/output/picture/wiring_svg.cpp",
     "plan.connection == study::Connection::forbidden", "false"),
    ("the ranking forgets the rules about the whole plan", "src/search/ranking.cpp",
     "tally.merge(plan_tally(system_, wired_, together_, &plan));",
     "(void)plan_tally(system_, wired_, together_, &plan);"),
    ("the list says another rule decides", "src/search/ranking.cpp",
     "out_.candidates[i].deciding.share < plan.deciding.share",
     "plan.deciding.rule == nullptr || out_.candidates[i].deciding.share > plan.deciding.share"),
    ("a cure allows one panel too many in series", "src/rules/cure_search.cpp",
     "out.push_back(cure_of(CureKind::fewer_in_series, s, *most));",
     "out.push_back(cure_of(CureKind::fewer_in_series, s, *most + 1));"),
    ("a cure allows one string too many", "src/rules/cure_search.cpp",
     "out.push_back(cure_of(CureKind::fewer_strings, s, *most));",
     "out.push_back(cure_of(CureKind::fewer_strings, s, *most + 1));"),
    ("cures are not tried on the whole wiring", "src/study/sound_cures.cpp",
     "!std::includes(before.passed.begin(), before.passed.end(), then.passed.begin(), then.passed.end())", "false"),
    ("a cure's watts leave the shared limit out", "src/study/sound_cures.cpp",
     "for (double& w : sum_after_w) w = shared_w(controller, w);", ";"),
    ("the promised coldest air forgets the tolerances", "src/study/coldest_survived.cpp",
     "return f.exceeds_at_worst();", "return f.decides && f.outcome == rules::Outcome::exceeds;"),
    ("only the low end of an assumed value is looked at", "src/study/look_up.cpp",
     "const Said high = at(one.range.high);", "const Said high = at(one.range.low);"),
    ("the drawing's window has volts at 25 °C", "src/study/window_map.cpp",
     "t.cold_voc_v = rules::array_cold_voc_v(system.stated(), entry.wiring).value;",
     "t.cold_voc_v = rules::array_cold_voc_v(system.stated(), entry.wiring).value / 1.1;"),
]


def joined(original, faults):
    """The text and all that can take its place, with the switches between them."""
    if not original.endswith(";"):
        for number, fault in faults:
            original = f"(::plait_faults::on({number}) ? ({fault}) : ({original}))"
        return original
    if original.startswith("const "):  # a declaration: it is the initial value that changes
        name, value = original[:-1].split(" = ", 1)
        return f"{name} = {joined(value, [(n, f[:-1].split(' = ', 1)[1]) for n, f in faults])};"
    for number, fault in faults:
        original = f"{{ if (::plait_faults::on({number})) {{ {fault} }} else {{ {original} }} }}"
    return original


def seed(tree):
    changes = {}
    for number, (_, file, original, fault) in enumerate(FAULTS, 1):
        changes.setdefault((file, original), []).append((number, fault))
    for (file, original), faults in changes.items():
        path = tree / file
        text = path.read_text(encoding="utf-8")
        if text.count(original) != 1:
            sys.exit(f"{file}: this is there {text.count(original)} times, not once:\n{original}")
        path.write_text(text.replace(original, joined(original, faults)), encoding="utf-8")
    for file in {file for file, _ in changes}:
        path = tree / file
        path.write_text(SWITCH + path.read_text(encoding="utf-8"), encoding="utf-8")


def main():
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("source", type=pathlib.Path)
    ask.add_argument("folder", help="of the tree with the faults", type=pathlib.Path)
    ask.add_argument("--only", help="numbers of faults, parted by commas")
    args = ask.parse_args()
    tree = args.folder.resolve()
    shutil.rmtree(tree, ignore_errors=True)
    skipped = shutil.ignore_patterns("build", ".git")
    shutil.copytree(args.source, tree, ignore=skipped)
    seed(tree)
    # Flags and folders are those of the everyday build, so that a compiler cache knows all sources that hold no fault.
    build = tree / "build/dev"
    launcher = os.environ.get("CMAKE_CXX_COMPILER_LAUNCHER")
    subprocess.run(["cmake", "--preset", "dev", *([f"-DCMAKE_CXX_COMPILER_LAUNCHER={launcher}"] if launcher else [])],
                   check=True, cwd=tree, stdout=subprocess.DEVNULL)
    made = subprocess.run(["cmake", "--build", str(build), "--target", "plait_laws_tests", "--", "-k", "0"], capture_output=True, check=False)
    if made.returncode != 0:
        sys.exit(made.stdout.decode("utf-8", "replace")[-4000:])
    laws = build / "tests/laws/plait_laws_tests"
    wanted = range(len(FAULTS) + 1) if args.only is None else [0] + [int(n) for n in args.only.split(",")]
    caught = 0
    print("| fault | caught |\n|---|---|")
    for number in wanted:
        began = time.monotonic()
        ran = subprocess.run([str(laws), "-a"], capture_output=True, check=False, env={**os.environ, "PLAIT_FAULT": str(number)})
        if number == 0:
            if ran.returncode != 0:
                sys.exit("The laws fail without any fault:\n" + ran.stdout.decode("utf-8", "replace"))
            continue
        noticed = ran.returncode != 0
        caught += noticed
        print(f"| {FAULTS[number - 1][0]} | {'yes' if noticed else 'no'} |", flush=True)
        print(f"{number}: {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
    print(f"\n{caught} of {len(list(wanted)) - 1} caught.")


if __name__ == "__main__":
    main()
