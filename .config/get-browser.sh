#!/bin/sh
# The report is tested in a real browser. Where Chromium is missing and the system's package manager may install it
# (as root, or with sudo that asks no password), it is installed; where not, this says so: the browser tests are then
# skipped, except in CI, where a missing browser is a failure.
have() { command -v "$1" >/dev/null 2>&1; }

browser() {
  if [ -n "${CHROMIUM:-}" ]; then have "$CHROMIUM"; else have chromium || have chromium-browser; fi
}

browser && exit 0
if have apt-get; then
  as_root=
  [ "$(id -u)" = 0 ] || as_root='sudo -n'
  if [ -z "$as_root" ] || { have sudo && sudo -n true 2>/dev/null; }; then
    echo 'No Chromium here: installing it with apt-get ...'
    export DEBIAN_FRONTEND=noninteractive
    $as_root apt-get update -q >/dev/null && $as_root apt-get install -y -q --no-install-recommends chromium >/dev/null
  fi
fi
browser && exit 0
echo '**********************************************************************' >&2
echo '* NO BROWSER: the tests that open the report in Chromium cannot run. *' >&2
echo '* Install Chromium, or set CHROMIUM to its path, and run again.      *' >&2
echo '**********************************************************************' >&2
[ -z "${CI:-}" ]
