"""Sends each sandbox request of a running service back to it and prints the advice.

Usage: python examples/quickstart.py [http://127.0.0.1:8080]
"""

import json
import sys
import urllib.request

from jambset.main import print_advices

ADDRESS = sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8080"


def fetch(path: str, body: object = None) -> dict:
    """The decoded answer of one call: POST with a body, GET without."""
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(ADDRESS + path, data, {"Content-Type": "application/json"})
    with urllib.request.urlopen(request, timeout=10) as answer:
        return json.load(answer)


names = [entry["scenario"] for entry in fetch("/v1/sandbox")["scenarios"]]
scenarios = [fetch(f"/v1/sandbox/{name}") for name in names]
advices = [fetch("/v1/openings/advice", scenario["request"]) for scenario in scenarios]
print_advices(advices, fetch("/v1/rules")["rules"], [scenario["title"] for scenario in scenarios])
