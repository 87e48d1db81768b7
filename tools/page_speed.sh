#!/bin/sh
# SPDX-License-Identifier: MIT
# Measures in a browser how long a person waits for the page: key press to the number painted, start to first paint.
# Usage: tools/page_speed.sh [BUILD [ROUNDS]], BUILD being out/release or another build with the page in it.
set -e
cd "$(dirname "$0")/.."
. tools/setup.sh
need chromium fonts-dejavu-core
[ -d web/test/node_modules ] || (cd web/test && npm ci --no-audit --no-fund >/dev/null)
WATTWRIGHT="$PWD/${1:-out/release}/cli/wattwright" node web/test/speed.mjs "${2:-21}"
