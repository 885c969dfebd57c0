#!/usr/bin/env bash
# Asks for the advice of one opening with curl.
#   bash examples/advise_one.sh [http://127.0.0.1:8080]
curl --silent --show-error --fail-with-body "${1:-http://127.0.0.1:8080}/v1/openings/advice" \
    --header 'Content-Type: application/json' --data-binary @- <<'JSON'
{
  "mark": "D07",
  "jurisdiction": "US",
  "frame": {"undercut": "1 in"},
  "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
  "pull_side": {
    "room": "bedroom 2",
    "build_up": [
      {"material": "carpet_cushion", "thickness": "7/16 in"},
      {"material": "carpet", "thickness": "1/2 in"}
    ]
  },
  "push_side": {"room": "hall", "build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]}
}
JSON
