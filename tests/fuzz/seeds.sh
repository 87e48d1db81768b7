#!/bin/sh
# SPDX-License-Identifier: MIT
# seeds.sh DEMOS OUT: for the sheet reader's fuzzer, each table of each demo as a small sheet of its own in OUT, and
# their words in OUT.dict. Short seeds run fast, and a cut-off sheet would only be refused.
set -e
demos=$1
out=$2
mkdir -p "$out"
for sheet in "$demos"/*.toml; do
  awk -v out="$out/$(basename "$sheet" .toml)" '
    /^\[/ { close(file); file = out "-" ++n; print "wattwright = 1" >file }
    n && !/^#/ && NF { print >file }' "$sheet"
done
cat "$demos"/*.toml | sed -n -e 's/^\([a-z_]*\) = .*/"\1 = "/p' -e 's/^\[\{1,2\}\([a-z_]*\)\]\{1,2\}.*/"[\1]\\x0a"/p' |
  sort -u >"$out.dict"
printf '"{ value = \\""\n", evidence = \\"measured\\" }"\n" +- "\n' >>"$out.dict"
