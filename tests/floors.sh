#!/bin/sh
# SPDX-License-Identifier: MIT
# Holds the house's direction: an include runs to the same floor or a lower one, never upwards or sideways, and only
# the floors above the line touch files, clock, threads, terminal or environment.
cd "${1:-.}" || exit 2
order="base figure model draw build ride wiring steps fit plan search views prints garage serve cli"
bad=0
rank() { n=0; for f in $order; do [ "$f" = "$1" ] && { echo $n; return; }; n=$((n + 1)); done; echo -1; }
for floor in $order; do
  [ -d "$floor" ] || continue
  here=$(rank "$floor")
  for line in $(grep -rhoE '^#include "[a-z]+/' --include='*.h' --include='*.cpp' "$floor" | sort -u | sed 's/.*"//; s,/,,'); do
    there=$(rank "$line")
    if [ "$there" -gt "$here" ] || [ "$there" -lt 0 ]; then echo "floor $floor includes $line, which lies above it"; bad=1; fi
  done
done
# draw knows no motorcycle; model knows no build and no figure; figure knows no model.
for pair in "draw figure" "draw model" "model figure" "figure model" "build draw" ; do
  set -- $pair
  if grep -rqE "^#include \"$2/" --include='*.h' --include='*.cpp' "$1" 2>/dev/null; then echo "floor $1 must not know $2"; bad=1; fi
done
for floor in base figure model draw build ride wiring steps fit plan search views prints; do
  if grep -rnE '^#include <(fstream|iostream|filesystem|chrono|thread|mutex|unistd.h|sys/|random)' --include='*.h' --include='*.cpp' "$floor" 2>/dev/null; then
    echo "floor $floor touches the outside world"; bad=1; fi
done
# Self-test: the rule must find an upward include where there is one.
if [ "$(rank ride)" -le "$(rank model)" ]; then echo "the floor order is broken"; bad=1; fi
[ $bad -eq 0 ] && echo "floors hold"
exit $bad
