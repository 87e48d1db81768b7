#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Seeds every mistake that tools/mutate.py knows into one build of the tests, each asleep until the environment names it, and
runs the tests once a mistake. For templates that many files include: building once and running often is the cheaper way.

    tools/mutate_at_once.py [--groups ride] [--count N] [--seed S] [--work DIR] [--only K,K,...] [--again LOG]

`a * b` becomes `a * wake<K> * b`, where the middle makes it a / b when WW_MUTANT is K; likewise sums, comparisons, literals,
min and max. What must be known to the compiler (constexpr) stays as it is and is counted as left out."""
import argparse
import os
import random
import re
import shutil
import subprocess
import sys

import mutate

SWITCH = r'''// SPDX-License-Identifier: MIT
#pragma once
#include <cstdlib>
#include <type_traits>

#include "base/num.h"

namespace ww::mutant {
inline const int awake = [] {
  const char* text = std::getenv("WW_MUTANT");
  return text == nullptr ? -1 : std::atoi(text);
}();
template <int K>
struct Wake {};
template <int K>
inline constexpr Wake<K> wake{};
template <int K, class A>
struct Left {
  A a;
};
#define WW_MUTANT_OP(op, other)                                       \
  template <int K, class A>                                           \
  Left<K, A> operator op(const A& a, Wake<K>) {                       \
    return {a};                                                       \
  }                                                                   \
  template <int K, class A, class B>                                  \
  auto operator op(const Left<K, A>& l, const B& b)->decltype(l.a op b) { \
    if constexpr (requires { l.a other b; }) {                        \
      if (awake == K) return l.a other b;                             \
    }                                                                 \
    return l.a op b;                                                  \
  }
WW_MUTANT_OP(+, -)
WW_MUTANT_OP(-, +)
WW_MUTANT_OP(*, /)
WW_MUTANT_OP(/, *)
WW_MUTANT_OP(<=, >)
WW_MUTANT_OP(>=, <)
WW_MUTANT_OP(<, >=)
WW_MUTANT_OP(>, <=)
template <int K>
inline double number(double right, double wrong) {
  return awake == K ? wrong : right;
}
template <int K, bool largest, class A, class B>
auto extreme(const A& a, const B& b) {
  if constexpr (std::is_arithmetic_v<A> && std::is_arithmetic_v<B>) {
    using T = std::common_type_t<A, B>;
    if ((awake == K) != largest) return static_cast<T>(a) < static_cast<T>(b) ? T(b) : T(a);
    return static_cast<T>(b) < static_cast<T>(a) ? T(b) : T(a);
  } else {
    if ((awake == K) != largest) return max(a, b);
    return min(a, b);
  }
}
}  // namespace ww::mutant
'''


def switched(text, places):
    """The file with its mistakes asleep, and the numbers of those that could be put in. `places`: (number, at, old, new)."""
    put = []
    for number, at, old, new in sorted(places, key=lambda p: -p[1]):
        line_start = text.rfind("\n", 0, at) + 1
        line = text[line_start:text.find("\n", at)]
        if "constexpr" in line or "case " in line:
            continue
        word, end = old.strip(), at + len(old)
        if word in ("min", "max"):
            if text[end:end + 2] == "({":
                continue
            start = at - 5 if text[at - 5:at] == "std::" else at
            text = f"{text[:start]}ww::mutant::extreme<{number}, {'true' if word == 'max' else 'false'}>{text[end:]}"
        elif word[0].isdigit():
            text = f"{text[:at]}ww::mutant::number<{number}>({word}, {new}){text[end:]}"
        elif word in ("at_most", "at_least"):
            continue
        else:
            text = f"{text[:at]} {word} ww::mutant::wake<{number}> {word} {text[end:]}"
        put.append(number)
    head = re.search(r"^#include ", text, re.M).start()
    return text[:head] + '#include "base/mutant_switch.h"\n' + text[head:], put


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--groups", default="ride")
    parser.add_argument("--count", type=int, default=10 ** 6)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--work", default=os.path.join(mutate.ROOT, "out", "mutants-at-once"))
    parser.add_argument("--only")
    parser.add_argument("--again")
    parser.add_argument("--limit", type=int, default=600, help="seconds a test may take")
    args = parser.parse_args()
    tree, build = os.path.join(args.work, "tree"), os.path.join(args.work, "build")
    if not os.path.exists(tree):
        shutil.copytree(mutate.ROOT, tree, ignore=shutil.ignore_patterns("out", ".git", "node_modules"))
    with open(os.path.join(tree, "base", "mutant_switch.h"), "w", encoding="utf-8") as f:
        f.write(SWITCH)
    os.environ.update(CCACHE_BASEDIR=tree, CCACHE_NOHASHDIR="1", GTEST_FAIL_FAST="1", GTEST_BRIEF="1")
    group = args.groups
    steps = mutate.GROUPS[group][2]
    population = [m for path in mutate.files_of(group) for m in mutate.mutants_of(path)]
    asleep = set()
    for path in mutate.files_of(group):
        places = [(k, m[1], m[2], m[3]) for k, m in enumerate(population) if m[0] == path]
        with open(os.path.join(mutate.ROOT, path), encoding="utf-8") as f:
            text, put = switched(f.read(), places)
        asleep.update(put)
        place = os.path.join(tree, path)
        with open(place, encoding="utf-8") as f:
            same = f.read() == text
        if not same:
            with open(place, "w", encoding="utf-8") as f:
                f.write(text)
    targets = list(dict.fromkeys(step[0] for step in steps))
    for command in (["cmake", "-S", tree, "-B", build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=None", "-DCMAKE_CXX_FLAGS=-O2 -w",
                     "-DWW_ASSERTIONS=ON", "-DWW_WIDE_KERNELS=OFF", "-DWW_WARNINGS_AS_ERRORS=OFF"],
                    ["cmake", "--build", build, "-j2", "--target", *targets]):
        good, said = mutate.run(command, tree, 7200)
        if not good:
            sys.exit(said[-6000:])
    random.seed(args.seed)
    chosen = random.sample(range(len(population)), min(args.count, len(population)))
    if args.only:
        chosen = [int(k) for k in args.only.split(",")]
    if args.again:
        wanted = {(m[0], m[4], m[5]) for m in mutate.mutants_again(args.again)}
        chosen = [k for k in range(len(population)) if (population[k][0], population[k][4], population[k][5]) in wanted]
    count = {"caught": 0, "survived": 0, "left out": 0}

    def tests_pass(number):
        os.environ["WW_MUTANT"] = str(number)
        for target, _, tests in steps:
            program = os.path.join(build, "tests", target[5:], target)
            if not mutate.run([program, *([f"--gtest_filter={tests}"] if tests else [])], tree, args.limit)[0]:
                return False
        return True

    steps = [(t, s, "ReferenceBuild*" if s else n) for t, s, n in steps]
    if not tests_pass(-1):
        sys.exit("the tests fail without any mistake awake")
    for number in chosen:
        path, _, old, new, line, column = population[number]
        verdict = "left out" if number not in asleep else ("survived" if tests_pass(number) else "caught")
        count[verdict] += 1
        print(f"{verdict}: {path}:{line}:{column}: '{old.strip()}' became '{new.strip()}'", flush=True)
    tried = count["caught"] + count["survived"]
    print(f"{group}: {count['caught']} of {tried} caught ({100.0 * count['caught'] / max(tried, 1):.1f} %), "
          f"{count['left out']} left out, {len(population)} places in all", flush=True)


if __name__ == "__main__":
    main()
