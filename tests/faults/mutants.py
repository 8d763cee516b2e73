#!/usr/bin/env python3
"""Changes single tokens of rules, physics, study and search, one at a time, and reports which changes the tests notice.

Usage: mutants.py SOURCE FOLDER [--each N] [--seed S] [--layers rules,physics,study,search] [--only N,N]

Prints the table of docs/laws.md and writes every survivor to FOLDER/survivors.txt. All mutants are in one build;
PLAIT_MUTANT=N switches one of them on. What can be changed: < <= > >= == != (turned round; < becomes <= between whole
numbers), + - * / (the opposite), && and || (their right side becomes its opposite) and decimal numbers (a tenth more).
A line holds one mutant at most; N lines of each layer are drawn by the seed."""

import argparse
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys
import time

NO_MUTANT = 99  # a switched-on change of something that is no number: such a mutant does not count

SWITCH = """#pragma once
#pragma GCC diagnostic ignored "-Wparentheses"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wunused"
#include <cstdlib>
#include <type_traits>
#include <utility>
namespace plait_mutants {
inline int chosen() {
    static const int number = [] {
        const char* text = std::getenv("PLAIT_MUTANT");
        return text == nullptr ? 0 : std::atoi(text);
    }();
    return number;
}
constexpr bool on(int number) {
    if (std::is_constant_evaluated()) return false;
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
        if (on(l.number)) {                                                                          \\
            if constexpr (whole_v<A, B>) return static_cast<decltype(l.left op right)>(l.left boundary right); \\
            else if constexpr (plain_v<A, B>) return static_cast<decltype(l.left op right)>(l.left other right); \\
            else std::_Exit(99);                                                                     \\
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

TAGS = {"<": "Less", "<=": "LessEqual", ">": "Greater", ">=": "GreaterEqual", "+": "Plus", "-": "Minus", "*": "Times",
        "/": "Over", "==": "Same", "!=": "Unlike"}

TOKEN = re.compile(r"(?<=[\w)\]]) (<=|>=|==|!=|&&|\|\||<|>|\+|-|\*|/) (?=[\w(!*:-])"
                   r"|(?<![\w.])(\d+\.\d+(?:e-?\d+)?)(?![\w.])")
LEAST_NUMBER = 1e-3  # smaller ones are slack against rounding and ends of iterations

# Which tests notice: those of the layer first, then the texts of the demos, the laws, and the layers above.
LAYERS = ["rules", "physics", "study", "search"]
WITNESSES = ["laws", "study", "search"]


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


def compiles(build, path):
    """The numbers of lines an error speaks of; empty where there is none."""
    target = next(t for t in build["commands"] if t["file"] == str(path))
    command = target["command"].split(" ")
    command = [c for c in command if c not in ("-Werror",) and not c.endswith("ccache")]
    out = command.index("-o")
    ran = subprocess.run(command[:out] + command[out + 2:] + ["-fsyntax-only", "-w"], cwd=target["directory"], capture_output=True,
                         text=True, check=False)
    if ran.returncode == 0:
        return set()
    return {int(n) - 1 for n in re.findall(re.escape(path.name) + r":(\d+):", ran.stderr)} or {-1}


def prepared(source, tree, layers, each, random_seed):
    shutil.rmtree(tree, ignore_errors=True)
    shutil.copytree(source, tree, ignore=shutil.ignore_patterns("build", ".git"))
    launcher = os.environ.get("CMAKE_CXX_COMPILER_LAUNCHER")
    # Flags and folders are those of the everyday build, so that a compiler cache knows all sources without a mutant.
    subprocess.run(["cmake", "--preset", "dev", *([f"-DCMAKE_CXX_COMPILER_LAUNCHER={launcher}"] if launcher else [])], check=True,
                   cwd=tree, stdout=subprocess.DEVNULL)
    import json
    build = {"commands": json.loads((tree / "build/dev/compile_commands.json").read_text(encoding="utf-8"))}
    mutants, per_file = seed(tree, layers, each, random_seed)
    for path, changes in per_file.items():
        original = path.read_text(encoding="utf-8")
        while True:
            write(path, original, changes)
            wrong = compiles(build, path)
            if not wrong:
                break
            kept = [c for c in changes if c[1] not in wrong]
            if len(kept) == len(changes):
                kept = changes[:-1]
            for c in changes:
                if c not in kept:
                    del mutants[c[0]]
            changes = kept
            if not changes:
                path.write_text(original, encoding="utf-8")
                break
    tests = {f"plait_{w}_tests" for w in layers + WITNESSES}
    made = subprocess.run(["cmake", "--build", "build/dev", "--target", "plait", *sorted(tests), "--", "-k", "0"], cwd=tree, capture_output=True, check=False)
    if made.returncode != 0:
        wrong = [line for line in made.stdout.decode("utf-8", "replace").split("\n") if "error" in line]
        sys.exit("\n".join(wrong[:40]))
    return mutants


def programs(tree, layer):
    """The test programs, those of the layer first, and the texts of the demos."""
    build = tree / "build/dev"
    first = [[str(build / f"tests/{layer}/plait_{layer}_tests"), "-a"]]
    golden = [["cmake", f"-DPLAIT={build / 'plait'}", "-P", str(tree / "tests/golden/golden.cmake")]]
    rest = [[str(build / f"tests/{w}/plait_{w}_tests"), "-a"] for w in WITNESSES if w != layer]
    return first + golden + rest


def noticed(tree, layer, mutant, limit_s):
    """None where the mutant changes no number, else what noticed it, or "" """
    for command in programs(tree, layer):
        try:
            ran = subprocess.run(command, capture_output=True, cwd=tree, check=False, timeout=limit_s,
                                 env={**os.environ, "PLAIT_MUTANT": str(mutant)})
        except subprocess.TimeoutExpired:
            return "runs for ever"
        if ran.returncode == NO_MUTANT:
            return None
        if ran.returncode != 0:
            return pathlib.Path(command[0]).name
    return ""


def main():
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("source", type=pathlib.Path)
    ask.add_argument("folder", help="of the tree with the mutants", type=pathlib.Path)
    ask.add_argument("--each", type=int, default=60, help="mutants a layer")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--layers", default=",".join(LAYERS))
    ask.add_argument("--only", help="numbers of mutants, parted by commas")
    ask.add_argument("--limit", type=float, default=600.0, help="seconds a test program may take")
    args = ask.parse_args()
    tree = args.folder.resolve()
    layers = args.layers.split(",")
    mutants = prepared(args.source, tree, layers, args.each, args.seed)
    print(f"{len(mutants)} mutants compile.", file=sys.stderr)
    for layer in layers:
        if (by := noticed(tree, layer, 0, args.limit)) != "":
            sys.exit(f"Without any mutant, {by} fails.")
    chosen = sorted(mutants) if args.only is None else [int(n) for n in args.only.split(",")]
    killed = dict.fromkeys(layers, 0)
    lived = {layer: [] for layer in layers}
    for mutant in chosen:
        layer, file, number, kind = mutants[mutant]
        began = time.monotonic()
        by = noticed(tree, layer, mutant, args.limit)
        line = (args.source / file).read_text(encoding="utf-8").split("\n")[number].strip()
        print(f"{mutant}: {by if by else 'no mutant' if by is None else 'LIVES'} ({time.monotonic() - began:.0f} s) {file}:{number + 1} '{kind}' {line}", file=sys.stderr, flush=True)
        if by:
            killed[layer] += 1
        elif by is not None:
            lived[layer].append(f"{mutant} {file}:{number + 1} '{kind}' {line}")
    print("| layer | mutants | noticed |\n|---|---|---|")
    for layer in layers:
        print(f"| {layer} | {killed[layer] + len(lived[layer])} | {killed[layer]} |")
    (tree / "survivors.txt").write_text("\n".join(s for layer in layers for s in lived[layer]) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
