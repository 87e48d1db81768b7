#!/bin/sh
# SPDX-License-Identifier: MIT
# Makes the pictures of the page in docs/pictures: a fresh garage, the demos, light and dark, desktop and phone.
# Usage: tools/page_pictures.sh [BUILD], BUILD being out/release or another build with the page in it.
set -e
cd "$(dirname "$0")/.."
. tools/setup.sh
need chromium fonts-dejavu-core
[ -d web/test/node_modules ] || (cd web/test && npm ci --no-audit --no-fund >/dev/null)
mkdir -p docs/pictures
WATTWRIGHT="$PWD/${1:-out/release}/cli/wattwright" node web/test/pictures.mjs docs/pictures
