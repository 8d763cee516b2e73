#!/usr/bin/env python3
"""Changes single tokens of rules, physics, study and search, one at a time, and reports which changes the tests notice.

Usage: mutants.py SOURCE FOLDER [--each N] [--seed S] [--layers rules,physics,study,search] [--only N,N]

Prints the table of docs/laws.md and writes every survivor to FOLDER/survivors.txt. All mutants are in one build;
PLAIT_MUTANT=N switches one of them on. What can be changed: < <= > >= == != (turned round; < becomes <= between whole
numbers), + - * / (the opposite), && and || (their right side becomes its opposite) and decimal numbers (a tenth more).
A line holds one mutant at most; N lines of each layer are drawn by the seed.

A first run of every test without a mutant keeps which mutants would have changed a value where they are, test by test. A mutant
is then tried by those tests alone, the quick ones first, until one fails. With --whole, what lives is tried by all tests of those
programs, for a value that is worked out once may change a later test. Where no test had another value the mutant is listed as
"nothing changes". --built takes the folder as an earlier run left it, with its record of what makes a difference."""

import argparse
import concurrent.futures
import json
import os
import pathlib
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import time

SWITCH = """#pragma once
#pragma GCC diagnostic ignored "-Wparentheses"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wsign-compare"
#pragma GCC diagnostic ignored "-Wfloat-conversion"
#pragma GCC diagnostic ignored "-Wunused"
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <type_traits>
#include <utility>
namespace plait_mutants {
inline constexpr int most = 4096;
inline std::atomic<char> seen[most];  // 'd' for one that made a difference where it is, 'n' for one of no number
inline int chosen() {
    static const int number = [] {
        if (std::getenv("PLAIT_MUTANTS_SEEN") != nullptr) return -1;
        const char* text = std::getenv("PLAIT_MUTANT");
        return text == nullptr ? 0 : std::atoi(text);
    }();
    return number;
}
inline bool watched() { return chosen() == -1; }
inline void saw(int number, char what = 'd') { seen[number].store(what, std::memory_order_relaxed); }
// A line for each test: its seconds, the mutants that made a difference, its name.
inline void tell(double seconds, const char* name) {
    std::FILE* out = std::fopen(std::getenv("PLAIT_MUTANTS_SEEN"), "a");
    if (out == nullptr) std::abort();
    std::fprintf(out, "%.3f\\t", seconds);
    for (int i = 0; i < most; ++i) {
        if (const char what = seen[i].exchange(0); what != 0) std::fprintf(out, "%c%d ", what, i);
    }
    std::fprintf(out, "\\t%s\\n", name);
    std::fclose(out);
}
inline struct Last { ~Last() { if (watched()) tell(0.0, ""); } } last;  // what no test had told
constexpr bool on(int number) {
    if (std::is_constant_evaluated()) return false;
    if (watched()) saw(number);
    return chosen() == number;
}
constexpr double number(int mutant, double value) { return on(mutant) ? (value == 0.0 ? 1.0 : 1.1 * value) : value; }
// Of a constant: a function that may be constexpr would be evaluated before there is an environment.
inline double constant(int mutant, double value) { return number(mutant, value); }
struct Not { int number; };  // a && Not{1} ^ b
template <class B> constexpr bool operator^(Not n, const B& b) { return static_cast<bool>(b) != on(n.number); }
template <class A, class B> inline constexpr bool plain_v =
    std::is_arithmetic_v<std::remove_cvref_t<A>> && std::is_arithmetic_v<std::remove_cvref_t<B>>;
template <class A, class B> inline constexpr bool whole_v =
    std::is_integral_v<std::remove_cvref_t<A>> && std::is_integral_v<std::remove_cvref_t<B>>;
#define PLAIT_MUTANT_OPERATOR(Name, op, other, boundary)                                             \\
    struct Name { int number; };                                                                     \\
    template <class A> struct Name##Left { A&& left; int number; };                                  \\
    template <class A> constexpr Name##Left<A> operator op(A&& left, Name n) {                       \\
        return {std::forward<A>(left), n.number};                                                    \\
    }                                                                                                \\
    template <class A, class B> constexpr auto operator op(Name##Left<A> l, B&& right) {             \\
        if (!std::is_constant_evaluated() && (chosen() == l.number || watched())) {                  \\
            if constexpr (plain_v<A, B>) {                                                           \\
                using R = decltype(l.left op right);                                                 \\
                R changed;                                                                           \\
                if constexpr (whole_v<A, B>) changed = static_cast<R>(l.left boundary right);        \\
                else changed = static_cast<R>(l.left other right);                                   \\
                if (!watched()) return changed;                                                      \\
                if (changed != (l.left op right)) saw(l.number);                                     \\
            } else {                                                                                 \\
                saw(l.number, 'n');                                                                  \\
            }                                                                                        \\
        }                                                                                            \\
        return std::forward<A>(l.left) op std::forward<B>(right);                                    \\
    }
PLAIT_MUTANT_OPERATOR(Less, <, >=, <=)
PLAIT_MUTANT_OPERATOR(LessEqual, <=, >, <)
PLAIT_MUTANT_OPERATOR(Greater, >, <=, >=)
PLAIT_MUTANT_OPERATOR(GreaterEqual, >=, <, >)
PLAIT_MUTANT_OPERATOR(Plus, +, -, -)
PLAIT_MUTANT_OPERATOR(Minus, -, +, +)
PLAIT_MUTANT_OPERATOR(Times, *, /, +)
PLAIT_MUTANT_OPERATOR(Over, /, *, *)
#undef PLAIT_MUTANT_OPERATOR
// == and != are of every type.
#define PLAIT_MUTANT_EQUALITY(Name, op)                                                              \\
    struct Name { int number; };                                                                     \\
    template <class A> struct Name##Left { A&& left; int number; };                                  \\
    template <class A> constexpr Name##Left<A> operator op(A&& left, Name n) {                       \\
        return {std::forward<A>(left), n.number};                                                    \\
    }                                                                                                \\
    template <class A, class B> constexpr bool operator op(Name##Left<A> l, B&& right) {             \\
        return (std::forward<A>(l.left) op std::forward<B>(right)) != on(l.number);                  \\
    }
PLAIT_MUTANT_EQUALITY(Same, ==)
PLAIT_MUTANT_EQUALITY(Unlike, !=)
#undef PLAIT_MUTANT_EQUALITY
}  // namespace plait_mutants
"""

# Goes to the end of one file of each test program.
LISTENER = """
#include <plait_mutants.hpp>
#include <ctime>
namespace {
struct WhichMutants : Catch::TestEventListenerBase {
    using TestEventListenerBase::TestEventListenerBase;
    std::clock_t began = 0;
    void testCaseStarting(const Catch::TestCaseInfo&) override { began = std::clock(); }
    void testCaseEnded(const Catch::TestCaseStats& stats) override {
        if (!plait_mutants::watched()) return;
        const double took_s = static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC;
        plait_mutants::tell(took_s, stats.testInfo.name.c_str());
    }
};
CATCH_REGISTER_LISTENER(WhichMutants)
}  // namespace
"""

TAGS = {"<": "Less", "<=": "LessEqual", ">": "Greater", ">=": "GreaterEqual", "+": "Plus", "-": "Minus", "*": "Times",
        "/": "Over", "==": "Same", "!=": "Unlike"}

TOKEN = re.compile(r"(?<=[\w)\]]) (<=|>=|==|!=|&&|\|\||<|>|\+|-|\*|/) (?=[\w(!*:-])"
                   r"|(?<![\w.])(\d+\.\d+(?:e-?\d+)?)(?![\w.])")
LEAST_NUMBER = 1e-3  # smaller ones are slack against rounding and ends of iterations

# Which tests notice: those of the layer first, then the texts of the demos, the laws, and the layers above.
LAYERS = ["rules", "physics", "study", "search"]
WITNESSES = ["study", "search", "measured", "output", "cli", "reference", "laws"]
TEXTS = ("golden", "json")
QUICK_S = 0.5  # tests that take less are tried before the others
CHEAP_S = 5.0  # every mutant is tried by what takes less, before any is tried by what takes more


def blanked(line):
    """The line with texts and remarks made blank, so that tokens in them are none."""
    line = re.sub(r'"(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])\'', lambda m: " " * len(m.group()), line)
    return re.sub(r"//.*", lambda m: " " * len(m.group()), line)


def candidates(path):
    """(line number, column, end, token) of everything in a file that can be changed."""
    found = []
    for number, line in enumerate(path.read_text(encoding="utf-8").split("\n")):
        code = blanked(line)
        if re.match(r"\s*(#|template|static_assert|case |using |\*|assert\()", code) or "operator" in code or "<=>" in code:
            continue
        if "constexpr" in code and not re.match(r"constexpr double \w+ = [\d.e-]+;", code):
            continue
        if "requires" in code or "decltype" in code or " -> " in code:
            continue
        for m in TOKEN.finditer(code):
            if m.group(2) is not None and abs(float(m.group(2))) < LEAST_NUMBER:
                continue
            kind = m.group(1) or m.group(2)
            at = m.start(1) if m.group(1) else m.start(2)
            found.append((number, at, at + len(kind), kind))
    return found


def changed(line, at, end, kind, mutant):
    if kind in ("&&", "||"):
        return f"{line[:end]} ::plait_mutants::Not{{{mutant}}} ^{line[end:]}"
    if kind in TAGS:
        return f"{line[:end]} ::plait_mutants::{TAGS[kind]}{{{mutant}}} {kind}{line[end:]}"
    if line.startswith("constexpr double"):
        return f"const double{line[len('constexpr double'):at]}::plait_mutants::constant({mutant}, {kind}){line[end:]}"
    return f"{line[:at]}::plait_mutants::number({mutant}, {kind}){line[end:]}"


def seed(tree, layers, each, random_seed):
    """Puts mutants into a tree; {number: (layer, file, line, token)}."""
    (tree / "include/plait_mutants.hpp").write_text(SWITCH, encoding="utf-8")
    draw = random.Random(random_seed)
    mutants = {}
    per_file = {}
    for layer in layers:
        lines = {}
        for path in sorted((tree / "src" / layer).glob("*.cpp")):
            for number, at, end, kind in candidates(path):
                lines.setdefault((path, number), []).append((at, end, kind))
        for path, number in sorted(draw.sample(sorted(lines), min(each, len(lines)))):
            at, end, kind = draw.choice(lines[path, number])
            mutant = len(mutants) + 1
            mutants[mutant] = (layer, path.relative_to(tree), number, kind)
            per_file.setdefault(path, []).append((mutant, number, at, end, kind))
    return mutants, per_file


def write(path, original, changes):
    lines = original.split("\n")
    for mutant, number, at, end, kind in changes:
        lines[number] = changed(lines[number], at, end, kind, mutant)
    # The first line keeps its number: errors name the lines of the original.
    lines[0] = lines[0] if lines[0].startswith("//") else lines[0]
    first = next(i for i, line in enumerate(lines) if line.startswith("#include"))
    lines[first] = '#include <plait_mutants.hpp> // with\n#line ' + str(first + 1) + "\n" + lines[first]
    path.write_text("\n".join(lines), encoding="utf-8")


def prepared(source, tree, layers, each, random_seed):
    shutil.rmtree(tree, ignore_errors=True)
    shutil.copytree(source, tree, ignore=shutil.ignore_patterns("build", ".git"))
    launcher = os.environ.get("CMAKE_CXX_COMPILER_LAUNCHER")
    # Flags and folders are those of the everyday build, so that a compiler cache knows all sources without a mutant.
    subprocess.run(["cmake", "--preset", "dev", *([f"-DCMAKE_CXX_COMPILER_LAUNCHER={launcher}"] if launcher else [])], check=True,
                   cwd=tree, stdout=subprocess.DEVNULL)
    shutil.copytree(tree / "src", tree / "original/src")
    mutants, per_file = seed(tree, layers, each, random_seed)
    originals = {path: path.read_text(encoding="utf-8") for path in per_file}
    for path, changes in per_file.items():
        write(path, originals[path], changes)
    for folder in {*layers, *WITNESSES}:
        test = min((tree / "tests" / folder).glob("*_test.cpp"))
        test.write_text("#define CATCH_CONFIG_EXTERNAL_INTERFACES\n" + test.read_text(encoding="utf-8") + LISTENER, encoding="utf-8")
    tests = sorted({f"plait_{w}_tests" for w in layers + WITNESSES})
    while True:
        made = subprocess.run(["cmake", "--build", "build/dev", "--target", "plait", *tests, "--", "-k", "0"], cwd=tree, capture_output=True,
                              text=True, errors="replace", check=False)
        if made.returncode == 0:
            return mutants
        if not left_out(tree, made.stdout, mutants, per_file, originals):
            sys.exit("\n".join([line for line in made.stdout.split("\n") if "error" in line][:40]))


def left_out(tree, errors, mutants, per_file, originals):
    """Takes out the mutants on lines that the compiler complains of; how many."""
    before = len(mutants)
    for path, changes in per_file.items():
        wrong = {int(n) - 1 for n in re.findall(re.escape(path.relative_to(tree).as_posix()) + r":(\d+):", errors)}
        kept = [c for c in changes if c[1] not in wrong]
        if not wrong:
            continue
        if len(kept) == len(changes):
            kept = changes[:-1]
        for c in changes:
            if c not in kept:
                del mutants[c[0]]
        per_file[path] = kept
        if kept:
            write(path, originals[path], kept)
        else:
            path.write_text(originals[path], encoding="utf-8")
    return before - len(mutants)


def programs(tree, layer, witnesses):
    """The test programs, those of the layer first, and the texts of the demos: {name: command}."""
    build = tree / "build/dev"
    tests = {w: [str(build / f"tests/{w}/plait_{w}_tests"), "-a"] for w in [layer, *witnesses]}
    texts = {"golden": ["cmake", f"-DPLAIT={build / 'plait'}", "-P", str(tree / "tests/golden/golden.cmake")],
             "json": [sys.executable, str(tree / "tests/golden/json_goldens.py"), str(build / "plait"), str(tree)]}
    return {layer: tests.pop(layer), **texts, **tests}


def run(command, tree, limit_s, **environment):
    """The exit code, or None after so many seconds of processor time: on a busy machine the clock on the wall says nothing."""
    limit = (int(limit_s) + 1, int(limit_s) + 6)
    ran = subprocess.run(command, capture_output=True, cwd=tree, check=False, env={**os.environ, **environment},
                         preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, limit))
    return None if ran.returncode in (-signal.SIGXCPU, -signal.SIGKILL) else ran.returncode


def watched(tree, layers, witnesses, limit_s, seen, numberless, record):
    """Adds to {program: [(test, seconds, mutants that make a difference in it)]} and to the mutants that are of no number."""
    notes = tree / "seen.txt"
    for program, command in {k: v for layer in layers for k, v in programs(tree, layer, witnesses).items()}.items():
        if program in seen:
            continue
        notes.write_text("", encoding="utf-8")
        began = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        if run(command, tree, limit_s, PLAIT_MUTANTS_SEEN=str(notes)) != 0:
            sys.exit(f"Without any mutant, {program} fails.")
        took_s = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - began
        seen[program] = []
        for line in notes.read_text(encoding="utf-8").split("\n")[:-1]:
            seconds, mutants, test = line.split("\t")
            numberless.update(int(m[1:]) for m in mutants.split() if m[0] == "n")
            seen[program].append((test, float(seconds), {int(m[1:]) for m in mutants.split() if m[0] == "d"}))
        if program in TEXTS:
            seen[program] = [("", took_s, set().union(*(s[2] for s in seen[program])))]
        print(f"{program}: {took_s:.0f} s, {len(set().union(*(s[2] for s in seen[program])))} mutants make a difference", file=sys.stderr, flush=True)
        record.write_text(json.dumps([{p: [(t, s, sorted(m)) for t, s, m in tests] for p, tests in seen.items()}, sorted(numberless)]),
                          encoding="utf-8")


def batches(tree, layer, mutant, seen, witnesses, whole):
    """What is to be run for a mutant, in this order: (program, command, seconds it takes without one)."""
    chosen, last = [], []
    for program, command in programs(tree, layer, witnesses).items():
        touched = [(test, seconds) for test, seconds, mutants in seen[program] if mutant in mutants]
        if not touched:
            continue
        every_s = sum(seconds for _, seconds, _ in seen[program])
        if program in TEXTS:
            chosen.append((program, command, every_s))
            continue
        if whole:
            last.append((program, command, every_s))
        for quick in (True, False):
            tests = [t for t in touched if (t[1] < QUICK_S) == quick and t[0] != ""]
            if tests:
                names = tree / f"tests-{mutant}-{program}-{quick}.txt"
                names.write_text("".join('"' + re.sub(r'([\\",\[])', r'\\\1', t) + '"\n' for t, _ in tests), encoding="utf-8")
                chosen.append((program, [*command, "-f", str(names)], sum(s for _, s in tests)))
    return sorted(chosen, key=lambda c: (c[0] != layer and c[2] > CHEAP_S, c[0] != layer, c[2])) + last


def noticed(tree, tried, mutant):
    """What noticed the mutant, "" for none."""
    for program, command, usual_s in tried:
        code = run(command, tree, 30.0 + 10.0 * usual_s, PLAIT_MUTANT=str(mutant))
        if code is None:
            return "runs for ever"
        if code != 0:
            return program
    return ""


def main():
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("source", type=pathlib.Path)
    ask.add_argument("folder", help="of the tree with the mutants", type=pathlib.Path)
    ask.add_argument("--each", type=int, default=60, help="mutants a layer")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--layers", default=",".join(LAYERS))
    ask.add_argument("--only", help="numbers of mutants, parted by commas")
    ask.add_argument("--limit", type=float, default=600.0, help="processor seconds that a test program may take")
    ask.add_argument("--jobs", type=int, default=1, help="mutants tried at the same time")
    ask.add_argument("--witnesses", default=",".join(WITNESSES), help="whose tests are run after those of the layer and the demos'")
    ask.add_argument("--whole", action="store_true", help="what lives is tried by every test of a program, too")
    ask.add_argument("--built", action="store_true", help="the folder has been built with the same layers, number and seed")
    args = ask.parse_args()
    tree = args.folder.resolve()
    layers = args.layers.split(",")
    witnesses = args.witnesses.split(",")
    kept = tree / "mutants.json"
    if args.built:
        mutants = {int(k): tuple(v) for k, v in json.loads(kept.read_text(encoding="utf-8")).items()}
    else:
        mutants = prepared(args.source, tree, layers, args.each, args.seed)
        kept.write_text(json.dumps({k: [str(i) for i in v] for k, v in mutants.items()}), encoding="utf-8")
    print(f"{len(mutants)} mutants compile.", file=sys.stderr, flush=True)
    record = tree / "seen.json"
    seen, numberless = {}, set()
    if args.built and record.exists():
        kept_seen, kept_numberless = json.loads(record.read_text(encoding="utf-8"))
        seen = {program: [(test, s, set(m)) for test, s, m in tests] for program, tests in kept_seen.items()}
        numberless.update(kept_numberless)
    watched(tree, layers, witnesses, args.limit, seen, numberless, record)
    chosen = [m for m in ([m for m in sorted(mutants) if mutants[m][0] in layers] if args.only is None else [int(n) for n in args.only.split(",")]) if m not in numberless]
    results = {}

    def tried(mutant, cheap):
        layer, file, number, kind = mutants[mutant]
        began = time.monotonic()
        runs = batches(tree, layer, mutant, seen, witnesses, args.whole)
        by = noticed(tree, [r for r in runs if (r[2] <= CHEAP_S) == cheap], mutant) if runs else None
        line = (tree / "original" / file).read_text(encoding="utf-8").split("\n")[int(number)].strip()
        words = f"{mutant} {file}:{int(number) + 1} '{kind}' {line}"
        said = by or ("LIVES" if by == "" else "NOTHING CHANGES")
        print(f"{said}{' so far' if by == '' and cheap else ''} ({time.monotonic() - began:.0f} s) {words}", file=sys.stderr, flush=True)
        results[mutant] = (layer, by, words)

    with concurrent.futures.ThreadPoolExecutor(args.jobs) as pool:
        list(pool.map(lambda m: tried(m, True), chosen))
        list(pool.map(lambda m: tried(m, False), [m for m in chosen if results[m][1] == ""]))
    results = [results[m] for m in chosen]
    print("| layer | mutants | noticed | live | nothing changes |\n|---|---|---|---|---|")
    for layer in layers:
        of = [by for its, by, _ in results if its == layer]
        print(f"| {layer} | {len(of)} | {sum(1 for by in of if by)} | {of.count('')} | {of.count(None)} |")
    (tree / "survivors.txt").write_text("".join(words + (": nothing changes" if by is None else "") + "\n" for _, by, words in results if not by),
                                        encoding="utf-8")


if __name__ == "__main__":
    main()
