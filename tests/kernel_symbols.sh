#!/bin/sh
# SPDX-License-Identifier: MIT
# A wide kernel's object may export no inline function that the rest of the program could take: it would then crash on
# an older processor. Weak symbols must carry the kernel's own instruction set in their name.
bad=0
for object in "$@"; do
  found=$(nm -C "$object" | grep -E ' [WVu] ' | grep -vE 'xsimd|avx2|avx512|__gxx_personality')
  if [ -n "$found" ]; then echo "$object shares:"; echo "$found"; bad=1; fi
done
[ $bad -eq 0 ] && echo "no shared inline functions"
exit $bad
