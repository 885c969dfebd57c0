"""Sends each sandbox request of a running service back to it and prints the answers.

Usage: python examples/quickstart.py [http://127.0.0.1:8080]
"""

import json
import sys
import urllib.request

from jambset.main import print_advices, print_house, print_house_recheck, print_rechecks

ADDRESS = sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8080"


def fetch(path: str, body: object = None) -> dict:
    """The decoded answer of one call: POST with a body, GET without."""
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(ADDRESS + path, data, {"Content-Type": "application/json"})
    with urllib.request.urlopen(request, timeout=10) as answer:
        return json.load(answer)


names = [entry["scenario"] for entry in fetch("/v1/sandbox")["scenarios"]]
scenarios = [fetch(f"/v1/sandbox/{name}") for name in names]


def answered(call: str) -> tuple[list[dict], list[str]]:
    """What the service answers to the scenarios of one call, and their titles."""
    asked = [scenario for scenario in scenarios if scenario["call"] == call]
    return [fetch(call, scenario["request"]) for scenario in asked], [scenario["title"] for scenario in asked]


advices, titles = answered("/v1/openings/advice")
print_advices(advices, fetch("/v1/rules")["rules"], titles)
print("\nSet before the floors were changed:\n")
print_rechecks(*answered("/v1/openings/recheck"))
for house, title in zip(*answered("/v1/houses/advice"), strict=True):
    print("\nA house:\n")
    print_house(house, title)
for house, title in zip(*answered("/v1/houses/recheck"), strict=True):
    print("\nA house whose floors changed after its doors were set:\n")
    print_house_recheck(house, title)
