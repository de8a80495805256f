"""
Weigh-ins written at once, through the acts themselves and with the settings as shipped.

    python -m tests.benchmarks.store --phones 32 --each 12 --processes 2

makes a database of its own (on the server of DATABASE_URL, where that is set), lets every phone
send its weights, half of them two or three times over, and prints what became of them as one
line of JSON. Tests read that line; a person reads the seconds. With --goals it prints the goals
for the store as ratios, measured in turn on this machine (needs a C compiler).
"""

from __future__ import annotations

import argparse
import ctypes
import json
import multiprocessing
import os
import random
import shutil
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from statistics import median
from typing import Any

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
KEYS = uuid.uuid4()

# What a phone sends: its key, whose weight, how many drams.
Job = tuple[uuid.UUID, int, int]


def jobs_of(entries: list[int], each: int, seed: int, repeats: bool) -> list[list[Job]]:
    """
    What every phone sends: key, entry and drams; with *repeats* half of it more than once.

    A repeat may go out from another phone, so that two may send one key at the same moment.
    """
    dice = random.Random(seed)
    phones: list[list[Job]] = [[] for _ in entries]
    for phone, entry in enumerate(entries):
        for number in range(each):
            job = (uuid.uuid5(KEYS, f"{seed}/{phone}/{number}"), entry, 256 + number)
            times = dice.choice((1, 1, 2, 3)) if repeats else 1
            for time_sent in range(times):
                sender = phone if time_sent == 0 else dice.randrange(len(phones))
                phones[sender].append(job)
    for phone_jobs in phones:
        dice.shuffle(phone_jobs)
    return phones


def send(phones: list[list[Job]], pause_ms: int = 0) -> dict[str, Any]:
    """Send from one thread a phone, all starting together; what happened and how long each took."""
    from django.db import connection

    from league.models import Entry
    from league.operations.weigh import record_weigh_in
    from league.rules.lines import Status

    outcomes: Counter[str] = Counter()
    took: list[float] = []
    together = threading.Barrier(len(phones))
    guard = threading.Lock()

    def walk(jobs: list[Job]) -> None:
        connection.ensure_connection()
        together.wait()
        for key, entry, drams in jobs:
            time.sleep(pause_ms / 1000)
            started = time.perf_counter()
            try:
                recorded = record_weigh_in(
                    Entry(pk=entry), key=key, status=Status.WEIGHED, nets=[drams], by=None
                )
                outcome = "created" if recorded.created else "repeated"
            except Exception as error:
                outcome = f"{type(error).__name__}: {error}"
            with guard:
                outcomes[outcome] += 1
                took.append(time.perf_counter() - started)
        connection.close()

    threads = [threading.Thread(target=walk, args=(jobs,)) for jobs in phones]
    started = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return {"outcomes": dict(outcomes), "took": took, "seconds": time.perf_counter() - started}


def send_apart(phones: list[list[Job]], pause_ms: int) -> dict[str, Any]:
    """The same, in a process of its own."""
    set_up()
    return send(phones, pause_ms)


def set_up() -> None:
    """Start Django with the settings as shipped."""
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")
    os.environ.setdefault("DRAWBAG_SECRET_KEY", "for benchmarks only")
    os.environ.setdefault("DRAWBAG_DRAW_KEY", "for benchmarks only, too")
    django.setup()


def bank(pegs: int) -> list[int]:
    """A drawn match of a new club; the entries along its bank."""
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    from tests.builders import make_entry, make_match
    from tests.factories import ClubFactory

    # A server of DATABASE_URL may hold the clubs of earlier runs.
    match = make_match(ClubFactory(slug=f"store-{uuid.uuid4()}"), sections={"A": pegs})
    first = int(match.match_pegs.order_by("peg__order")[0].peg.number)
    return [make_entry(match, peg=first + number).pk for number in range(pegs)]


def run(phones: int, each: int, processes: int, repeats: bool, pause_ms: int) -> dict[str, Any]:
    """Send everything, then count what is kept."""
    set_up()
    from django.db import connection, connections

    from league.models import WeighIn

    entries = bank(phones)
    work = jobs_of(entries, each, seed=phones * 1000 + each, repeats=repeats)
    sent = {key for jobs in work for key, _, _ in jobs}
    before = fsyncs()
    if processes == 1:
        done = [send(work, pause_ms)]
    else:
        connections.close_all()
        parts = [work[part::processes] for part in range(processes)]
        with multiprocessing.get_context("spawn").Pool(processes) as pool:
            done = pool.starmap(send_apart, [(part, pause_ms) for part in parts])
    counted = fsyncs() - before
    outcomes: Counter[str] = sum((Counter(each["outcomes"]) for each in done), Counter())
    took = sorted(seconds for each in done for seconds in each["took"])
    kept = Counter(WeighIn.objects.filter(key__in=sent).values_list("key", flat=True))
    return {
        "engine": connection.vendor,
        "sent": sum(len(jobs) for jobs in work),
        "different": len(sent),
        "created": outcomes.pop("created", 0),
        "repeated": outcomes.pop("repeated", 0),
        "wrong": outcomes,
        "missing": len(sent - set(kept)),
        "doubled": sum(times - 1 for times in kept.values()),
        "fsyncs": counted,
        "seconds": max(each["seconds"] for each in done),
        "median_ms": 1000 * median(took),
        "p99_ms": 1000 * took[int(0.99 * (len(took) - 1))],
    }


def fsyncs() -> int:
    """How often the disk was asked so far; 0 where nobody counts."""
    path = os.environ.get("FSYNC_COUNT")
    if not path or not Path(path).is_file():
        return 0
    return ctypes.c_uint64.from_buffer_copy(Path(path).read_bytes().ljust(8, b"\0")).value


def counter(folder: Path) -> Path | None:
    """The counter, compiled; None without a C compiler."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if compiler is None:
        return None
    made = folder / "count_fsyncs.so"
    source = HERE / "count_fsyncs.c"
    command = [compiler, "-O2", "-shared", "-fPIC", "-o", str(made), str(source), "-ldl"]
    subprocess.run(command, check=True, capture_output=True)
    return made


def measured(
    folder: Path, *, counting: Path | None = None, delay_us: int = 0, **how: int
) -> dict[str, Any]:
    """One run in a process of its own, its database in *folder*."""
    environment: dict[str, str] = {**os.environ, "DRAWBAG_DATA": str(folder)}
    if counting is not None:
        environment |= {
            "LD_PRELOAD": str(counting),
            "FSYNC_COUNT": str(folder / "fsyncs"),
            "FSYNC_DELAY_US": str(delay_us),
        }
    words = [part for name, value in how.items() for part in (f"--{name}", str(value))]
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.store", *words],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise RuntimeError(done.stderr)
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found


def goals() -> Iterator[tuple[str, str, str]]:
    """
    Goal, bound and what this machine reached.

    Waiting is measured with 3 ms between two sends of a phone, less than any page takes; the
    rate without, and so without its bound, which is set for pages asked for over HTTP.
    """
    with tempfile.TemporaryDirectory(prefix="drawbag-store-") as name:
        home = Path(name)
        counting = counter(home)

        def once(kind: str, number: int, **how: Any) -> Mapping[str, Any]:
            folder = home / f"{kind}-{number}"
            folder.mkdir()
            return measured(folder, counting=counting, **how)

        alone = once("alone", 0, phones=1, each=300, repeats=0)
        yield "W1 fsyncs a weigh-in", "<= 1.1", f"{alone['fsyncs'] / alone['created']:.2f}"
        crowd = once("crowd", 0, phones=32, each=20, processes=2)
        wrong = sum(crowd["wrong"].values()), crowd["missing"], crowd["doubled"]
        yield "W2 32 phones: refused, missing, doubled", "0, 0, 0", ", ".join(map(str, wrong))
        phones = {"phones": 8, "each": 60, "processes": 2, "repeats": 0}
        flat_out = [once("rate", n, delay_us=5000, **phones) for n in range(3)]
        rates = sorted(run["created"] / run["seconds"] * 0.005 for run in flat_out)
        yield "8 phones flat out, 5 ms fsync: saves/s x fsync", "", _spread(rates)
        phones["pause"] = 3
        slow = [once("slow", n, delay_us=5000, **phones) for n in range(3)]
        waits = sorted(run["p99_ms"] / (8 * 5) for run in slow)
        yield "W3 8 phones, 5 ms fsync: p99 over 8 x fsync", "<= 5", _spread(waits)
        fast = [once("fast", n, **phones) for n in range(3)]
        uneven = sorted(run["p99_ms"] / run["median_ms"] for run in fast)
        yield "W4 8 phones: p99 over p50", "<= 4", _spread(uneven)


def _spread(values: list[float]) -> str:
    return f"{median(values):.2f} [{values[0]:.2f}-{values[-1]:.2f}]"


def main() -> None:
    """Read the command line."""
    reading = argparse.ArgumentParser(description=__doc__)
    reading.add_argument("--phones", type=int, default=8)
    reading.add_argument("--each", type=int, default=12)
    reading.add_argument("--processes", type=int, default=1)
    reading.add_argument("--repeats", type=int, default=1, help="0: everything is sent once")
    reading.add_argument("--pause", type=int, default=0, help="ms between two sends")
    reading.add_argument("--goals", action="store_true")
    asked = reading.parse_args()
    if asked.goals:
        for goal, bound, reached in goals():
            sys.stdout.write(f"{goal:48} {bound:10} {reached}\n")
        return
    sys.stdout.write(
        json.dumps(run(asked.phones, asked.each, asked.processes, bool(asked.repeats), asked.pause))
        + "\n"
    )


if __name__ == "__main__":
    main()
