#!/bin/sh
# SPDX-License-Identifier: MIT
# Writes the docs that are made from the program: docs/rules.md, docs/trust.md, and the table of choices in
# docs/formats.md. Wants a build with tests.
set -e
cd "$(dirname "$0")/.."
build=${1:-out/dev}
for program in "$build/cli/docgen" "$build/tests/values/test_values"; do
  [ -x "$program" ] || { echo "$program is not built; nothing was written" >&2; exit 1; }
done
"$build/cli/docgen" . >docs/rules.md
{
  cat docs/trust_head.md
  "$build/tests/values/test_values" . --trust
} >docs/trust.md
choices=$(mktemp)
"$build/cli/docgen" --choices >"$choices"
sed -i -e '/^<!-- choices/,/^<!-- end of choices/{/^<!--/!d}' -e "/^<!-- choices/r $choices" docs/formats.md
rm -f "$choices"
