#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Seeds one mistake at a time (a sign, a factor, a comparison) into a kernel or a rule, in a copy of the tree, and runs the
tests that should notice. Prints what was caught and every mistake that was not.

    tools/mutate.py [--count N] [--seed S] [--groups model,ride,figure,fit-...] [--work DIR] [--again LOG]

Only what includes the changed file is compiled, straight into a second link of the test, quickest test first; it stops at
the first failure. One mutant takes 4 to 30 s of one core. Mistakes in comments, texts and includes are not made; what does
not compile is not counted. --again tries the survivors of an earlier run's output once more."""
import argparse
import json
import os
import random
import re
import shlex
import shutil
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
FIT = [("test_fit", None, None)]

# Which files a group holds, and the steps that must notice, quickest first: a test, those of its sources that the step
# links (None: all), and the tests that it runs (None: all).
GROUPS = {
    "model": ("model", [".h", "ageing.cpp"], [("test_values", None, None), ("test_model", None, None)]),
    "ride": ("ride", ["solve.h", "steady.h", "cycle.h", "launch.h", "evaluate.h", "params.h", "values.cpp"],
             [("test_ride", ["reference_build_test.cpp"], None), ("test_ride", None, "-Kernels.*:Spreads.*"),
              ("test_ride", None, "Kernels.*:Spreads.*")]),
    "figure": ("figure", ["figure.cpp", "read.cpp", "print.cpp", "decimal.cpp"], [("test_figure", None, None)]),
    "fit-battery": ("fit", ["rules_battery*.cpp"], FIT),
    "fit-safety": ("fit", ["rules_safety_chain*.cpp"], FIT),
    "fit-driveline": ("fit", ["rules_drive*.cpp"], FIT),
    "fit-frame": ("fit", ["rules_frame*.cpp"], FIT),
    "fit-whole": ("fit", ["rules_whole_bike*.cpp"], FIT),
    "fit-desk": ("fit", ["facts.cpp", "desk.cpp"], FIT),
}
SKIP = {"model/constants.h", "model/ocv_tables.h", "model/wire_tables.h", "model/chemistry.h"}

TOKEN = re.compile(r"(?<=[\w\)\]]) (\+|-|\*|/) (?=[\w\(])|( <= | >= | < | > )|\b(min|max|at_most|at_least)\(|(?<![\w.])(\d+\.\d+(?:e-?\d+)?|\d+e-?\d+)(?![\w.])")
SWAP = {"+": "-", "-": "+", "*": "/", "/": "*", " <= ": " > ", " >= ": " < ", " < ": " >= ", " > ": " <= ",
        "min": "max", "max": "min", "at_most": "at_least", "at_least": "at_most"}


def code_spans(text):
    """Places that are code: neither comment, text nor preprocessor line."""
    spans, i, n = [], 0, len(text)
    start = 0
    while i < n:
        two = text[i:i + 2]
        if two == "//":
            spans.append((start, i))
            i = text.find("\n", i)
            i = n if i < 0 else i
            start = i
        elif text[i] == '"':
            spans.append((start, i))
            i += 1
            while i < n and text[i] != '"':
                i += 2 if text[i] == "\\" else 1
            i += 1
            start = i
        elif text[i] == "#" and (i == 0 or text[i - 1] == "\n"):
            spans.append((start, i))
            i = text.find("\n", i)
            i = n if i < 0 else i
            start = i
        else:
            i += 1
    spans.append((start, n))
    return spans


def mutants_of(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as f:
        text = f.read()
    found = []
    for begin, end in code_spans(text):
        for m in TOKEN.finditer(text, begin, end):
            word = next(g for g in m.groups() if g)
            at = m.start(next(i for i, g in enumerate(m.groups(), 1) if g))
            line_start = text.rfind("\n", 0, at) + 1
            line = text[line_start:text.find("\n", at)]
            if "template" in line or "static_assert" in line or "#include" in line:
                continue
            if word in SWAP:
                new = SWAP[word]
            else:
                value = float(word)
                new = repr(value * 1.1 if value else 0.1)
            found.append((path, at, word, new, text.count("\n", 0, at) + 1, at - line_start + 1))
    return found


def files_of(group):
    folder, patterns, _ = GROUPS[group]
    out = []
    for name in sorted(os.listdir(os.path.join(ROOT, folder))):
        path = folder + "/" + name
        wild = any(re.fullmatch(p.replace(".", r"\.").replace("*", ".*"), name) or (p.startswith(".") and name.endswith(p))
                   for p in patterns)
        if wild and path not in SKIP:
            out.append(path)
    return out


def run(command, cwd, limit=600):
    """Whether it ended well in time, and what it said."""
    try:
        done = subprocess.run(command, cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=limit, check=False)
        return done.returncode == 0, done.stdout.decode(errors="replace")
    except subprocess.TimeoutExpired:
        return False, "took too long"


class Bench:
    """The copy of the tree, its build without mistakes, and a second link for each mutant."""

    def __init__(self, work):
        self.tree = os.path.join(work, "tree")
        self.build = os.path.join(work, "build")
        self.made = os.path.join(work, "made")
        shutil.rmtree(work, ignore_errors=True)
        shutil.copytree(ROOT, self.tree, ignore=shutil.ignore_patterns("out", ".git", "node_modules"))
        os.makedirs(self.made)
        os.environ.update(CCACHE_BASEDIR=self.tree, CCACHE_NOHASHDIR="1", GTEST_FAIL_FAST="1", GTEST_BRIEF="1")
        good, said = run(["cmake", "-S", self.tree, "-B", self.build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=None",
                          "-DCMAKE_CXX_FLAGS=-O1 -g1", "-DWW_ASSERTIONS=ON", "-DWW_WIDE_KERNELS=OFF"], self.tree)
        if not good:
            sys.exit(said)
        with open(os.path.join(self.build, "compile_commands.json"), encoding="utf-8") as f:
            self.compile = {}
            for entry in json.load(f):
                words = shlex.split(entry["command"])
                self.compile[words[words.index("-o") + 1]] = (words, os.path.relpath(entry["file"], self.tree))

    def prepare(self, targets):
        good, said = run(["cmake", "--build", self.build, "-j1", "--target", *targets], self.tree, 7200)
        if not good:
            sys.exit(said[-3000:])
        self.link, self.objects = {}, {}
        for target in targets:
            commands = run(["ninja", "-t", "commands", target], self.build)[1].strip().split("\n")
            line = commands[-1].removeprefix(": && ").removesuffix(" && :")
            self.link[target] = shlex.split(line)
            made = [w for c in commands for w in shlex.split(c) if w.endswith(".o")]
            self.objects[target] = [o for o in dict.fromkeys(made) if o in self.compile]
        self.users = {}  # file -> objects that include it
        current = None
        for line in run(["ninja", "-t", "deps"], self.build)[1].split("\n"):
            if line and not line.startswith(" "):
                current = line.split(":")[0]
            elif line.strip():
                path = os.path.relpath(os.path.join(self.build, line.strip()), self.tree)
                self.users.setdefault(path, []).append(current)

    def compile_one(self, target_object):
        """The object with the mistake in it; None where it does not compile."""
        out = os.path.join(self.made, target_object.replace("/", "_"))
        if os.path.exists(out):
            return out
        words, source = self.compile[target_object]
        level = "-O0" if source.startswith("tests/") else "-O1"  # tests run once, kernels often
        words = [level if w == "-O1" else w for w in words if w not in ("-g1", "-Werror") and not w.endswith("ccache")]
        words[words.index("-o") + 1] = out
        return out if run(words, self.build)[0] else None

    def verdict(self, path, steps):
        for name in os.listdir(self.made):
            os.remove(os.path.join(self.made, name))
        for target, sources, tests in steps:
            command, extra = [], []
            kept = [o for o in self.objects[target] if self.compile[o][1].startswith("tests/") and sources is not None
                    and os.path.basename(self.compile[o][1]) not in sources]
            for user in self.users.get(path, []):
                if user not in self.objects[target] or user in kept:
                    continue
                made = self.compile_one(user)
                if made is None:
                    return "broken"
                extra.append((user, made))
            new = dict(extra)
            program = os.path.join(self.made, "program")
            for word in self.link[target]:
                if word in kept:
                    continue
                command.append(new.pop(word, word))
            # What lies in a library: before the libraries, so that theirs is not taken.
            first = next(i for i, w in enumerate(command) if w.endswith(".a"))
            command[first:first] = list(new.values())
            command[command.index("-o") + 1] = program
            if not run(command, self.build)[0]:
                return "broken"
            arguments = [self.tree] if target == "test_values" else ([f"--gtest_filter={tests}"] if tests else [])
            if not run([program, *arguments], self.tree, 180)[0]:
                return "caught"
        return "survived"


def mutants_again(log):
    """The survivors of an earlier run, as far as their line still holds them."""
    chosen = []
    with open(log, encoding="utf-8") as f:
        for line in f:
            m = re.match(r"survived: (\S+?):(\d+):(\d+): '(.*)' became '(.*)'", line)
            if m:
                chosen += [x for x in mutants_of(m[1]) if x[4] == int(m[2]) and x[5] == int(m[3]) and x[2].strip() == m[4]]
    return chosen


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--groups", default=",".join(GROUPS))
    parser.add_argument("--work", default=os.path.join(ROOT, "out", "mutants"))
    parser.add_argument("--again")
    args = parser.parse_args()
    again = mutants_again(args.again) if args.again else None
    bench = Bench(args.work)
    random.seed(args.seed)
    all_tried = all_caught = 0
    for group in args.groups.split(","):
        steps = GROUPS[group][2]
        bench.prepare(list(dict.fromkeys(step[0] for step in steps)))
        for target, _, _ in steps:
            program = os.path.join(bench.build, "tests", target[5:], target)
            good, said = run([program, bench.tree] if target == "test_values" else [program], bench.tree)
            if not good:
                sys.exit(f"{target} fails without any mistake seeded\n{said[-3000:]}")
        files = files_of(group)
        population = [m for path in files for m in mutants_of(path)]
        chosen = random.sample(population, min(args.count, len(population)))
        if again is not None:
            chosen = [m for m in again if m[0] in files]
        count = {"caught": 0, "survived": 0, "broken": 0}
        for path, at, old, new, line, column in chosen:
            place = os.path.join(bench.tree, path)
            with open(place, encoding="utf-8") as f:
                text = f.read()
            with open(place, "w", encoding="utf-8") as f:
                f.write(text[:at] + new + text[at + len(old):])
            verdict = bench.verdict(path, steps)
            with open(place, "w", encoding="utf-8") as f:
                f.write(text)
            count[verdict] += 1
            print(f"{verdict}: {path}:{line}:{column}: '{old.strip()}' became '{new.strip()}'", flush=True)
        tried = count["caught"] + count["survived"]
        all_tried += tried
        all_caught += count["caught"]
        print(f"{group}: {count['caught']} of {tried} caught ({100.0 * count['caught'] / max(tried, 1):.1f} %), "
              f"{count['broken']} did not compile, {len(population)} places in all", flush=True)
    print(f"all: {all_caught} of {all_tried} caught ({100.0 * all_caught / max(all_tried, 1):.1f} %)")


if __name__ == "__main__":
    main()
