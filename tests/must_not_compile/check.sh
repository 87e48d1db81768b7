#!/bin/sh
# SPDX-License-Identifier: MIT
# check.sh SNIPPET COMPILER FLAG...: the snippet must compile as it stands and must not with -DWRONG, for the reason that
# its 'Message:' line gives (an extended regular expression). So a misspelt include or a broken header cannot pass.
snippet=$1
shift
message=$(sed -n 's,^// Message: ,,p' "$snippet")
[ -n "$message" ] || { echo "$snippet names no message"; exit 1; }
if ! said=$("$@" -fsyntax-only "$snippet" 2>&1); then
  echo "$said"
  echo "the right half does not compile"
  exit 1
fi
if said=$("$@" -fsyntax-only -DWRONG "$snippet" 2>&1); then
  echo "the wrong half compiles"
  exit 1
fi
errors=$(echo "$said" | grep -c 'error:')
if ! echo "$said" | grep -E ' (error|note): ' | grep -qE "$message"; then
  echo "$said"
  echo "it fails for another reason than '$message'"
  exit 1
fi
echo "refused ($errors): $(echo "$said" | grep 'error:' | head -n 1)"
