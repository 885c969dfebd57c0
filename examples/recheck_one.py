"""Asks what is to be done about a unit that was set for other floors, and prints the remedies. Standard library only.

Usage: python examples/recheck_one.py [http://127.0.0.1:8080]
"""

import json
import sys
import urllib.error
import urllib.request

ADDRESS = sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8080"
PLANK = [{"material": "vinyl_plank", "thickness": "1/4 in"}]
OPENING = {
    "mark": "D07",
    "jurisdiction": "US",
    "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
    "pull_side": {"room": "bedroom 2", "build_up": PLANK},
    "push_side": {"room": "hall", "build_up": PLANK},
    "as_set": {"foot": "1/2 in", "leaf_bottom": "1 1/2 in"},
}


def recheck(opening: dict) -> dict:
    """What is found, and what fixes it. A problem is printed with every field to fix, and ends the program."""
    request = urllib.request.Request(
        f"{ADDRESS}/v1/openings/recheck", json.dumps(opening).encode(), {"Content-Type": "application/json"}
    )
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return json.load(answer)
    except urllib.error.HTTPError as refused:
        problem = json.load(refused)
        lines = [f"{error['pointer']}: {error['detail']}" for error in problem.get("errors", [])]
        sys.exit("\n".join([problem["detail"], *lines]))


found = recheck(OPENING)
print(found["summary"])
for remedy in found["remedies"]:
    print(remedy["minutes"], "min:", remedy["text"])
