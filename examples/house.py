"""Sends a house, prints each opening's advice, and writes its lists and its tasks to files. Standard library only.

Usage: python examples/house.py [http://127.0.0.1:8080] [folder]
"""

import json
import sys
import urllib.error
import urllib.request
from pathlib import Path

ADDRESS = sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8080"
FOLDER = Path(sys.argv[2] if len(sys.argv) > 2 else ".")
CARPET = [{"material": "carpet_cushion", "thickness": "7/16 in"}, {"material": "carpet", "thickness": "1/2 in"}]
PLANK = [{"material": "vinyl_plank", "thickness": "1/4 in"}]
HOUSE = {
    "house": "Lot 12",
    "defaults": {
        "jurisdiction": "US",
        "rough_opening": {"height": "83 in"},
        "frame": {"undercut": "1 in", "head_gap": "1/8 in", "head_thickness": "11/16 in"},
        "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
        "push_side": {"room": "hall", "build_up": PLANK},
    },
    "head_lines": [{"name": "hall", "marks": ["D01", "D02", "D03"]}],
    "openings": [
        {"mark": "D01", "pull_side": {"room": "bedroom 1", "build_up": CARPET}},
        {"mark": "D02", "pull_side": {"room": "bedroom 2", "build_up": CARPET}},
        {"mark": "D03", "leaf": {"width": "28 in"}, "pull_side": {"room": "study", "build_up": PLANK}},
    ],
}


def advise(house: dict, media_type: str, query: str = "") -> bytes:
    """The answer in one form. A problem is printed with every field to fix, and ends the program."""
    headers = {"Content-Type": "application/json", "Accept": media_type}
    request = urllib.request.Request(f"{ADDRESS}/v1/houses/advice{query}", json.dumps(house).encode(), headers)
    try:
        with urllib.request.urlopen(request, timeout=30) as answer:
            return answer.read()
    except urllib.error.HTTPError as refused:
        problem = json.load(refused)
        lines = [f"{error.get('pointer')}: {error['detail']}" for error in problem.get("errors", [])]
        sys.exit("\n".join([problem["detail"], *lines]))


answer = json.loads(advise(HOUSE, "application/json"))
print(answer["summary"])
for opening in answer["openings"]:
    if "advice" in opening:
        print(opening["mark"], opening["advice"]["verdict"], opening["advice"]["summary"])
    else:
        print(opening.get("mark", "?"), *(error["detail"] for error in opening["problem"]["errors"]))
(FOLDER / "trim.csv").write_bytes(advise(HOUSE, "text/csv", "?list=trim"))
(FOLDER / "tasks.ics").write_bytes(advise(HOUSE, "text/calendar"))
