"""Sends many openings as one stream and reads the answers while it still sends.

[KEY=...] python examples/bulk_openings.py FILE [http://127.0.0.1:8080]

FILE has an opening a line, as JSON. Answers go to standard output in the same order. KEY is sent where the service asks
for keys; beyond a network of your own, name an https address. Reading has to go on beside sending: the service takes no
more openings than the answers it can hand over. Where it ends the stream early, its last line says so; where the
connection breaks, answers are missing. Then standard error has why and what to send again, and this exits with 1.
"""

import http.client
import json
import os
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

PART = 65_536


def send(connection: http.client.HTTPConnection, path: str) -> None:
    """The file in chunks."""
    with Path(path).open("rb") as lines:
        while part := lines.read(PART):
            connection.send(b"%x\r\n%s\r\n" % (len(part), part))
    connection.send(b"0\r\n\r\n")


def whole_lines(reply: http.client.HTTPResponse) -> Iterator[bytes]:
    """The answers that come whole, also those before a broken connection."""
    try:
        yield from (line for line in reply if line.endswith(b"\n"))
    except (OSError, http.client.HTTPException) as broken:
        print(f"The connection broke: {broken!r}", file=sys.stderr)


def main(path: str, base: str = "http://127.0.0.1:8080") -> None:
    address = urlsplit(base)
    connect = http.client.HTTPSConnection if address.scheme == "https" else http.client.HTTPConnection
    connection = connect(address.hostname or "127.0.0.1", address.port, timeout=120)
    connection.putrequest("POST", "/v1/openings/bulk")
    connection.putheader("Content-Type", "application/x-ndjson")
    connection.putheader("Transfer-Encoding", "chunked")
    if key := os.environ.get("KEY"):
        connection.putheader("Authorization", f"Bearer {key}")
    connection.endheaders()
    threading.Thread(target=send, args=(connection, path), daemon=True).start()
    reply = connection.getresponse()
    if reply.status != 200:
        sys.exit(reply.read().decode())
    answered, line = 0, b"{}"
    for line in whole_lines(reply):
        sys.stdout.buffer.write(line)
        answered += 1
    if (last := json.loads(line)).get("ends"):
        sys.exit(f"{last['detail']} Line {last['line']} and those after it have no answer.")
    with Path(path).open("rb") as lines:
        asked = sum(not line.isspace() for line in lines)
    if answered < asked:  # http.client takes a connection that ends between two chunks for the end of the answer
        sys.exit(f"The stream broke off: the first {answered} of {asked} openings have an answer, the others none.")


if __name__ == "__main__":
    main(*sys.argv[1:])
