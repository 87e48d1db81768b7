#!/bin/bash
# SPDX-License-Identifier: MIT
# Starts the program as a builder would, asks it for its page and one build as a browser would, and stops it.
# Uses its own empty garage in out/. Wants curl.
set -e
cd "$(dirname "$0")/.."
. tools/setup.sh
need curl
rm -f out/ci.db out/ci.db-* out/serve.txt out/serve.jar
./run serve --no-browser --port 0 --garage out/ci.db >out/serve.txt 2>out/serve-errors.txt &
program=$!
trap 'kill -KILL $program 2>/dev/null || true' EXIT
for _ in $(seq 1 18000); do
  address=$(sed -n 's/^Wattwright is at //p' out/serve.txt)
  [ -n "$address" ] && break
  kill -0 "$program" 2>/dev/null || { cat out/serve.txt out/serve-errors.txt; echo "the program ended before it served"; exit 1; }
  sleep 0.1
done
[ -n "$address" ] || { echo "no address was printed"; exit 1; }
base=${address%%/\?*}
ask() { curl -sS --max-time 30 -b out/serve.jar -H "Origin: $base" -H "Content-Type: application/json" "$@"; }
[ "$(curl -sS -o /dev/null -w '%{http_code}' "$base/api/garage")" = 401 ] || { echo "answered without a key"; exit 1; }
curl -sS -o /dev/null -c out/serve.jar "$address"
ask "$base/" | grep -q "<title>Wattwright" || { echo "no page"; exit 1; }
made=$(ask -d '{"name":"ci","where":"riding","demo":"commuter"}' "$base/api/builds")
echo "$made" | grep -q '"revision":1' || { echo "no build: ${made:0:300}"; exit 1; }
ask "$base/api/builds/1?ready=full" | grep -q '"ready":"full"' || { echo "no full state"; exit 1; }
kill -TERM "$program"
code=0
wait "$program" || code=$?
trap - EXIT
cat out/serve-errors.txt
[ "$code" = 0 ] || { echo "the program ended with $code"; exit 1; }
echo "served, asked, stopped"
