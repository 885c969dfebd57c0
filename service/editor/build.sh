#!/usr/bin/env bash
# Bundles the editor of the sandbox page into one file and writes down the licences of what is in it. Needs Node 20 and,
# for the packages, the index that npm is set to; the lock names none. The same lock gives the same bytes.
set -euo pipefail
cd "$(dirname "$0")"
assets=../jambset/http/assets/page
meta=$(mktemp)
trap 'rm -f "$meta"' EXIT

npm ci --ignore-scripts --no-audit --no-fund
npx esbuild entry.js --bundle --format=esm --minify --target=es2022 --charset=utf8 --legal-comments=none \
  --metafile="$meta" --outfile="$assets/editor.js"
node licences.mjs "$meta" > "$assets/editor.js.LICENSE.txt"
sha256sum "$assets/editor.js"
