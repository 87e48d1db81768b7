#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds the page into web/dist, where the program takes it from; does nothing where it is newer than its sources.
# Without npm, or where it cannot fetch its few packages, the program is built without the page and says so.
cd "$(dirname "$0")/../web" 2>/dev/null || exit 0
[ -f package.json ] || exit 0
[ -f dist/app.js ] && [ -z "$(find package.json package-lock.json build.mjs src -newer dist/app.js -type f 2>/dev/null | head -n 1)" ] && exit 0
if ! command -v npm >/dev/null 2>&1; then
  echo "npm is not here: the program is built without its page" >&2
  exit 0
fi
mkdir -p ../out
if { [ -d node_modules ] && [ node_modules -nt package-lock.json ]; } || npm ci --no-audit --no-fund >../out/page.log 2>&1; then
  npm run build >>../out/page.log 2>&1 && exit 0
fi
tail -n 20 ../out/page.log >&2
echo "the page could not be built: see out/page.log" >&2
exit 1
