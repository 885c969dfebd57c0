#!/usr/bin/env bash
# One opening as a drawing and as a sheet to print, a house as PDF: the same body, another Accept.
#   draw_one.sh [base address] [folder to write to]
set -euo pipefail
base=${1:-http://127.0.0.1:8080}
folder=${2:-.}
opening='{
  "mark": "D07", "jurisdiction": "US", "frame": {"undercut": "1 in"},
  "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
  "pull_side": {"room": "bedroom 2", "build_up": [
    {"material": "carpet_cushion", "thickness": "7/16 in"}, {"material": "carpet", "thickness": "1/2 in"}]},
  "push_side": {"room": "hall", "build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]}
}'

ask() { # address, media type, file, body
    curl -sS --fail-with-body -X POST "$base$1" -H 'Content-Type: application/json' -H "Accept: $2" \
        -H "Accept-Language: ${LANGUAGE_OF_THE_CREW:-en}" --data "$4" -o "$folder/$3"
    echo "wrote $3"
}

ask /v1/openings/advice image/svg+xml D07.svg "$opening"
ask /v1/openings/advice text/html D07.html "$opening"
ask /v1/houses/advice application/pdf house.pdf "{\"house\": \"Lot 4\", \"openings\": [$opening]}"
