"""Asks for the advice of one opening and prints what the carpenter needs. Standard library only.

Usage: python examples/advise_one.py [http://127.0.0.1:8080]
"""

import json
import sys
import urllib.error
import urllib.request

ADDRESS = sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8080"
OPENING = {
    "mark": "D07",
    "jurisdiction": "US",
    "frame": {"undercut": "1 in"},
    "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
    "pull_side": {
        "room": "bedroom 2",
        "build_up": [
            {"material": "carpet_cushion", "thickness": "7/16 in"},
            {"material": "carpet", "thickness": "1/2 in"},
        ],
    },
    "push_side": {"room": "hall", "build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]},
}


def advise(opening: dict) -> dict:
    """The advice for one opening. A problem is printed with every field to fix, and ends the program."""
    request = urllib.request.Request(
        f"{ADDRESS}/v1/openings/advice", json.dumps(opening).encode(), {"Content-Type": "application/json"}
    )
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return json.load(answer)
    except urllib.error.HTTPError as refused:
        problem = json.load(refused)
        lines = [f"{error['pointer']}: {error['detail']}" for error in problem.get("errors", [])]
        sys.exit("\n".join([problem["detail"], *lines]))


advice = advise(OPENING)
print(advice["summary"])
if advice["verdict"] in ("go", "go_with_trim"):
    print("legs at", advice["setting"]["foot"]["text"])
    print("trim", advice["leaf"]["trim"]["text"])
else:  # hold or conflict: nobody sets or cuts by numbers that an answer or a decision may change
    for question in advice["questions"]:
        print(f"ask {question['ask']}: {question['text']}")
    for conflict in advice["conflicts"]:
        print(f"{conflict['decides']} decides: {conflict['text']}", *(way["text"] for way in conflict["ways_out"]))
