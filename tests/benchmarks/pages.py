"""
What a published page costs, as ratios to a page that does nothing. Run it by hand:

    python -m tests.benchmarks.pages

It fills the demo club into a folder of its own, and says first what each page weighs as sent. R2
is timed inside one process, in processor time, through the test client and the whole middleware;
R3 over gunicorn with two workers of four threads, loaded by wrk for two seconds at a time, the two
addresses in turn, both asked for packed as every browser asks. A pair in which a busy machine gave
no answer at all is left out.
"""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]
PAIRS = 11
LOADS = 5
PAGES = {
    "newest table": ("/tables/3/", 0.6),
    "newest result": ("/matches/19/result/", 0.6),
    "result version": ("/matches/19/result/1/", 0.9),
}
# As every browser asks; hello is asked the same way.
PACKED = "Accept-Encoding: gzip"
LARGEST = 100_000  # bytes as sent, faces and styles apart
SIZED = (
    "/",
    "/results/",
    "/anglers/",
    "/anglers/2/",
    "/records/",
    "/teams/18/",
    "/waters/1/",
    "/matches/24/",
    "/tables/3/anglers/",
    "/clubs/marlbrook/programs/",
    "/matches/19/result/2/bank.png",
    "/clubs/marlbrook/matches.ics",
    "/clubs/marlbrook/results.atom",
    "/api/1/seasons/3/table",
)


def each(work: Callable[[], object], seconds: float = 0.02) -> float:
    """Processor seconds for one run of *work*, over a sample of about 20 ms."""
    runs, spent = 0, 0.0
    while spent < seconds:
        began = time.process_time()
        work()
        spent += time.process_time() - began
        runs += 1
    return spent / runs


def said(name: str, ratios: list[float], goal: str) -> None:
    """Print the median of the *ratios* with the least and the most."""
    sys.stdout.write(
        f"{name}: {median(ratios):.2f} [{min(ratios):.2f} to {max(ratios):.2f}], goal {goal}\n"
    )


def inside_one_process() -> None:
    """R2: a page as a stranger gets it, first worked out and then kept, over hello."""
    from django.core.cache import cache  # after the settings have been pointed at the folder
    from django.test import Client

    client = Client(SERVER_NAME="localhost", headers={"accept-encoding": "gzip"})

    def get(address: str) -> Callable[[], object]:
        def got() -> object:
            answer = client.get(address)
            assert answer.status_code == 200, f"{address} answered {answer.status_code}"
            return answer

        return got

    def anew(address: str) -> Callable[[], object]:
        fresh = get(address)

        def got() -> object:
            cache.clear()
            return fresh()

        return got

    for address in (*SIZED, *(address for address, _ in PAGES.values())):
        size = len(client.get(address).content)
        over = "" if size <= LARGEST else f", OVER {LARGEST}"
        sys.stdout.write(f"size {address}: {size} bytes as sent{over}\n")
    hello = get("/hello/")
    for name, (address, _) in PAGES.items():
        kept, first = get(address), anew(address)
        kept()
        said(f"R2 {name}, kept, over hello", [each(kept) / each(hello) for _ in range(PAIRS)], "3")
        said(
            f"R2 {name}, worked out anew, over hello",
            [each(first) / each(hello) for _ in range(PAIRS)],
            "35",
        )


def over_http(data: str) -> None:
    """R3: answers a second of a kept page over those of hello, on one server."""
    wrk = shutil.which("wrk")
    if not wrk:
        sys.stdout.write("R3 not measured: wrk is not installed.\n")
        return
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "gunicorn", "tests.benchmarks.hello:application", "--bind",
         f"127.0.0.1:{port}", "--workers", "2", "--threads", "4", "--log-level", "error"],
        cwd=ROOT,
        env={**os.environ, "DRAWBAG_DATA": data},
    )  # fmt: skip
    try:
        for _ in range(200):
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)

        def rate(address: str) -> float:
            told = subprocess.run(
                [wrk, "-t2", "-c8", "-d2s", "-H", PACKED, f"http://127.0.0.1:{port}{address}"],
                capture_output=True,
                text=True,
                check=True,
            ).stdout
            assert "Non-2xx" not in told, told
            return float(re.search(r"Requests/sec:\s+([\d.]+)", told)[1])

        for name, (address, goal) in PAGES.items():
            rate(address)  # every worker keeps the page
            pairs = [(rate(address), rate("/hello/")) for _ in range(LOADS)]
            said(
                f"R3 {name}, kept, answers over hello",
                [ours / empty for ours, empty in pairs if ours and empty],
                f"at least {goal}",
            )
    finally:
        server.terminate()
        server.wait()


def main() -> None:
    """Fill the demo club, then print R2 and R3."""
    with tempfile.TemporaryDirectory() as data:
        os.environ["DRAWBAG_DATA"] = data
        subprocess.run(
            [sys.executable, "manage.py", "demo", "--no-serve"],
            cwd=ROOT,
            check=True,
            capture_output=True,
        )
        from tests.benchmarks import hello  # the settings read the folder when they are loaded

        assert hello.application
        inside_one_process()
        over_http(data)


if __name__ == "__main__":
    main()
