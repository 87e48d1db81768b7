# SPDX-License-Identifier: MIT
# need PACKAGE...: installs the Debian packages that are not there yet. Sourced by run and check.
mkdir -p out
need() {
  if ! command -v dpkg-query >/dev/null; then
    echo "This is not Debian; going on in the hope that the like of these is there: $*" >&2
    return 0
  fi
  missing=""
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q "install ok installed" || missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  as_root=""
  if [ "$(id -u)" -ne 0 ]; then
    as_root="sudo"
    if ! command -v sudo >/dev/null; then
      echo "These packages are missing, and there is no sudo to install them. As root:" >&2
      echo "  apt-get update && apt-get install --no-install-recommends$missing" >&2
      exit 3
    fi
  fi
  echo "installing:$missing" >&2
  $as_root apt-get update -qq >&2 || echo "Not every package list could be fetched (see above); trying all the same." >&2
  # No question may wait for an answer; sudo drops the environment, so it is set behind it.
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing \
    >out/install.log 2>&1 || {
    tail -n 20 out/install.log >&2
    echo "Not all packages could be installed (see above). Nothing was built." >&2
    exit 3
  }
}
