"""How long drawings and sheets take, and what they cost other callers.

    python tests/bench/bench_render.py [repeats]

A drawing and the sheet of one opening, the pages of houses of 10 to 200 openings and their PDF: CPU time in this
process, least of the repeats, from the answer as decoded from JSON. "of the advice" divides it by the time it takes to
advise on the same thing. Then a served process answers advice on one opening while it makes PDFs of 50 openings one
after the other: latencies with and without, and their ratio, on whatever cores there are.
"""

from __future__ import annotations

import asyncio
import os
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import httpx
import msgspec

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.houses import house, merged

from jambset.http.advise import adviser, house_adviser
from jambset.main import calm_collector
from jambset.render.drawing import drawing_svg
from jambset.render.language import ENGLISH
from jambset.render.pages import house_page, opening_page
from jambset.render.pdf import house_pdf
from jambset.rules.load import load_catalogue

COUNTS = (10, 50, 200)
AT_ONCE, REQUESTS = 4, 2000


def least(work: Callable[[], Any], repeats: int) -> float:
    """Least CPU time of some runs [ms]."""
    found = []
    for _ in range(repeats):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return 1e3 * min(found)


def rendering(repeats: int) -> None:
    """Prints the time of each form."""
    catalogue = load_catalogue()
    advise, advise_house = adviser(catalogue), house_adviser(catalogue)
    print(f"{'form':24}{'size':>10}{'time':>12}{'of the advice':>15}")

    def row(name: str, answer: Callable[[], bytes], form: Callable[[Any], bytes]) -> None:
        told = msgspec.json.decode(answer())
        form(told)
        took, base = least(lambda: form(told), repeats), least(answer, repeats)
        print(f"{name:24}{len(form(told)) / 1024:>7.0f} kB{took:>9.2f} ms{took / base:>14.1f}")

    body = msgspec.json.encode(merged(house(4, seed=1, lines=0))[0])
    row("drawing", partial(advise, body), lambda told: drawing_svg(told, ENGLISH))
    row("sheet of an opening", partial(advise, body), lambda told: opening_page(told, ENGLISH))
    for count in COUNTS:
        whole = msgspec.json.encode(house(count, seed=1))
        answer = partial(advise_house, whole)
        row(f"page, {count} openings", answer, lambda told: house_page(told, ENGLISH))
        row(f"PDF, {count} openings", answer, lambda told: house_pdf(told, ENGLISH))


# --- beside other callers


async def latencies(url: str, body: bytes) -> list[float]:
    """Latencies of advice on one opening [ms], some at a time."""
    found: list[float] = []

    async def caller(client: httpx.AsyncClient, times: int) -> None:
        for _ in range(times):
            start = time.perf_counter()
            reply = await client.post("/v1/openings/advice", content=body, headers={"Content-Type": "application/json"})
            reply.raise_for_status()
            found.append(1e3 * (time.perf_counter() - start))

    async with httpx.AsyncClient(base_url=url, timeout=60) as client:
        await asyncio.gather(*(caller(client, REQUESTS // AT_ONCE) for _ in range(AT_ONCE)))
    return sorted(found)


async def beside(url: str, body: bytes, whole: bytes) -> tuple[list[float], int]:
    """The same while PDFs are made one after the other, and how many were."""
    made = 0

    async def printer() -> None:
        nonlocal made
        headers = {"Content-Type": "application/json", "Accept": "application/pdf"}
        async with httpx.AsyncClient(base_url=url, timeout=60) as client:
            while True:
                (await client.post("/v1/houses/advice", content=whole, headers=headers)).raise_for_status()
                made += 1

    printing = asyncio.create_task(printer())
    await asyncio.sleep(0.2)
    found = await latencies(url, body)
    printing.cancel()
    return found, made


def serving() -> None:
    """Prints latencies of a served process, alone and while it makes PDFs."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    environment = {**os.environ, "JAMBSET_PORT": str(port)}
    server = subprocess.Popen(
        [sys.executable, "-m", "jambset.main", "serve"], env=environment, stdout=subprocess.DEVNULL
    )
    url = f"http://127.0.0.1:{port}"
    try:
        wait_for(f"{url}/health/ready")
        body = msgspec.json.encode(merged(house(4, seed=1, lines=0))[0])
        whole = msgspec.json.encode(house(50, seed=1))
        asyncio.run(latencies(url, body))
        alone = asyncio.run(latencies(url, body))
        busy, made = asyncio.run(beside(url, body, whole))
    finally:
        server.terminate()
        server.wait()
    print(f"\n{AT_ONCE} callers, {REQUESTS} requests{'p50':>10}{'p99':>10}{'most':>10}")
    for name, found in (("alone", alone), (f"beside {made} PDFs", busy)):
        p50, p99 = (found[int(share * (len(found) - 1))] for share in (0.5, 0.99))
        print(f"{name:24}{p50:>8.1f} ms{p99:>7.1f} ms{found[-1]:>7.1f} ms")


def wait_for(url: str) -> None:
    """Wait until the service answers. Raises TimeoutError."""
    for _ in range(200):
        try:
            if httpx.get(url).status_code == 200:
                return
        except httpx.TransportError:
            pass
        time.sleep(0.05)
    raise TimeoutError(url)


if __name__ == "__main__":
    calm_collector()
    rendering(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
    serving()
