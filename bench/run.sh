#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds with the bench preset and prints the table (docs/bench.md). Run it on a quiet machine.
#   bench/run.sh            what Wattwright itself takes
#   bench/run.sh --cvode    also the same ride in a general integrator (installs libsundials-dev)
set -e
cd "$(dirname "$0")/.."
. tools/setup.sh
need g++ cmake ninja-build ccache pkg-config libxsimd-dev libtomlplusplus-dev nlohmann-json3-dev libexpected-dev libfmt-dev libcli11-dev libboost-dev libsqlite3-dev libsqlitecpp-dev libqrencode-dev
cvode=OFF
if [ "$1" = "--cvode" ]; then
  need libsundials-dev
  cvode=ON
fi
cmake --preset bench -DWW_CVODE=$cvode >out/configure-bench.log 2>&1 || { cat out/configure-bench.log; exit 1; }
cmake --build --preset bench --target wattwright wattwright_bench wattwright_bench_state wattwright_bench_search >out/build-bench.log 2>&1 || { tail -n 40 out/build-bench.log; exit 1; }
echo "load before: $(cut -d' ' -f1-3 /proc/loadavg), $(nproc) cores"
./out/bench/bench/wattwright_bench_state
./out/bench/bench/wattwright_bench_search
exec ./out/bench/bench/wattwright_bench ./out/bench/cli/wattwright
