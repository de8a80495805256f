"""
Weigh-ins over HTTP as phones send them, against their limits; and the phone itself, slowed down.

    python -m tests.benchmarks.scales            # SQLite, slow disk and fast
    python -m tests.benchmarks.scales --postgres # the same on a server of its own
    python -m tests.benchmarks.scales --work     # CPU of a post over a raw transaction
    python -m tests.benchmarks.scales --phone    # from the last key to the next peg, CPU 4x slower

gunicorn runs with two workers of four threads on a database in memory (tmpfs), so that the disk is
the counter's 5 ms a request or nothing at all. Every acknowledged key is looked up afterwards.
"""

from __future__ import annotations

import argparse
import http.client
import json
import shutil
import sqlite3
import sys
import tempfile
import threading
import time
import uuid
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from statistics import median
from typing import Any

from tests import postgres
from tests.benchmarks.store import counter
from tests.serving import Site

DELAY_US = 5000
FEWEST = 40  # posts of a run, shared by its phones
TOKENS = """
import django; django.setup()
from league.models import Match
from league.operations.passes import let_in, make_pass
from league.rules.walks import Walk
match = Match.objects.get()
for pair in range(16):
    _, secret = make_pass(match, name=f"Pair {pair}", walk=Walk(), by=None)
    for phone in range(2):
        print(let_in(match.pk, secret, name=f"Phone {phone} of pair {pair}")[1])
"""
KEPT = """
import django; django.setup()
from league.models import WeighIn
print("\\n".join(map(str, WeighIn.objects.values_list("key", flat=True))))
"""


class Phone(threading.Thread):
    """One phone that sends one weight after another, each once or twice."""

    def __init__(
        self, site: Site, number: int, posts: int, together: threading.Barrier, token: str
    ) -> None:
        super().__init__()
        self.site, self.number, self.posts, self.together = site, number, posts, together
        self.token = token
        self.took: list[float] = []
        self.acknowledged: list[str] = []
        self.wrong: Counter[str] = Counter()
        self.link = http.client.HTTPConnection("127.0.0.1", site.port, timeout=60)

    def run(self) -> None:
        """Send, and keep how long each answer took."""
        entries = self.site.scene["entries"]
        self.together.wait()
        for seq in range(self.posts):
            place = (self.number + seq) % len(entries)
            key = str(uuid.uuid4())
            body = {
                "entries": [
                    {
                        "key": key,
                        "seq": seq,
                        "entry": entries[place],
                        "peg": str(place + 1),
                        "status": "weighed",
                        "nets": [256 + seq],
                    }
                ],
                "waiting": 1,
                "last_seq": seq,
            }
            for _ in range(1 + (seq % 5 == 0)):
                started = time.perf_counter()
                try:
                    found = self._post("send/", body)
                    result = found["answers"][0]["result"]
                except (OSError, http.client.HTTPException, KeyError, ValueError) as error:
                    self.wrong[f"{type(error).__name__}"] += 1
                    self.link.close()
                    continue
                self.took.append(time.perf_counter() - started)
                if result in {"created", "duplicate"}:
                    self.acknowledged.append(key)
                else:
                    self.wrong[result] += 1
        self.link.close()

    def _post(self, path: str, body: dict[str, Any]) -> dict[str, Any]:
        headers = {"Content-Type": "application/json", "Authorization": f"Bearer {self.token}"}
        address = f"/scales/{self.site.scene['match']}/{path}"
        self.link.request("POST", address, json.dumps(body), headers)
        answer = self.link.getresponse()
        text = answer.read()
        if answer.status != 200:
            raise ValueError(f"{answer.status}: {text[:200]!r}")
        found: dict[str, Any] = json.loads(text)
        return found


def measured(site: Site, tokens: list[str], phones: int, posts: int) -> dict[str, Any]:
    """One run: so many phones at once, each with so many weights."""
    together = threading.Barrier(phones)
    running = [Phone(site, n, posts, together, tokens[n]) for n in range(phones)]
    started = time.perf_counter()
    for phone in running:
        phone.start()
    for phone in running:
        phone.join()
    seconds = time.perf_counter() - started
    took = sorted(each for phone in running for each in phone.took)
    acknowledged = {uuid.UUID(key) for phone in running for key in phone.acknowledged}
    return {
        "phones": phones,
        "posts": len(took),
        "a second": len(took) / seconds,
        "p50": 1000 * took[len(took) // 2],
        "p95": 1000 * took[int(0.95 * (len(took) - 1))],
        "p99": 1000 * took[int(0.99 * (len(took) - 1))],
        "wrong": sum((phone.wrong for phone in running), Counter()),
        "acknowledged": acknowledged,
    }


@contextmanager
def serving(home: Path, name: str, more: dict[str, str]) -> Iterator[Site]:
    """A site of its own, served; everything acknowledged is looked up before it goes."""
    site = Site(home / name, pegs=48, more=more)
    site.start()
    try:
        yield site
    finally:
        site.stop()


def bare(folder: Path, delay: float) -> float:
    """Median ms of a bare durable insert in SQLite, settings as shipped; *delay* stands for it."""
    took = []
    with closing(sqlite3.connect(folder / "bare.sqlite3")) as file:
        file.execute("pragma journal_mode=wal")
        file.execute("pragma synchronous=full")
        file.execute("create table weighin (key text unique, entry int, nets text)")
        for number in range(200):
            started = time.perf_counter()
            file.execute("insert into weighin values (?, ?, ?)", (str(uuid.uuid4()), number, "[1]"))
            file.commit()
            took.append(time.perf_counter() - started + delay)
    return 1000 * median(took)


def report(name: str, site: Site, alone_ms: float) -> None:
    """Every number of phones on one site, a line each."""
    out = sys.stdout.write
    out(f"\n{name}; a bare durable insert takes {alone_ms:.2f} ms\n")
    out("  phones  posts  saves/s     p50     p95     p99   p99/p50   p50/bare   wrong\n")
    acknowledged = set()
    tokens = site.run("-c", TOKENS).split()
    for phones in (1, 8, 32):
        posts = max(5, 4 * FEWEST // phones)
        found = measured(site, tokens, phones, posts)
        acknowledged |= found["acknowledged"]
        out(
            f"  {phones:6d} {found['posts']:6d} {found['a second']:8.0f} {found['p50']:7.1f} "
            f"{found['p95']:7.1f} {found['p99']:7.1f} {found['p99'] / found['p50']:9.2f} "
            f"{found['p50'] / alone_ms:10.1f}   {dict(found['wrong']) or 0}\n"
        )
    kept = Counter(uuid.UUID(line) for line in site.run("-c", KEPT).split())
    doubled = sum(times - 1 for times in kept.values())
    missing = len(acknowledged - set(kept))
    out(f"  acknowledged {len(acknowledged)}, missing {missing}, doubled {doubled}\n")


PRESS = """async () => {
  const click = (selector) => document.querySelector(selector).click();
  const plate = () => document.querySelector(".pegplate .p").textContent;
  click(".pad [data-digit='2']"); click("[data-on]"); click("[data-ounce='8']");
  const before = plate();
  const started = performance.now();
  const next = new Promise((yes) => {
    const watch = new MutationObserver(() => {
      const now = document.querySelector(".pegplate .p");
      if (now && now.textContent !== before) { watch.disconnect(); yes(); }
    });
    watch.observe(document.getElementById("screen"), { childList: true, subtree: true });
  });
  click("[data-save]");
  await next;
  await new Promise(requestAnimationFrame);
  return performance.now() - started;
}"""


def work(home: Path) -> None:
    """CPU of one post through the whole site over a raw SQLite transaction, in pairs, no disk."""
    site = Site(home / "work", pegs=48)
    tokens = site.run("-c", TOKENS).split()
    script = WORK.format(token=tokens[0], match=site.scene["match"], entries=site.scene["entries"])
    sys.stdout.write(site.run("-c", script))


WORK = """
import django, itertools, json, sqlite3, time, uuid
django.setup()
from django.conf import settings
from django.test import Client
from statistics import median
settings.ALLOWED_HOSTS = ["testserver"]
client = Client()
raw = sqlite3.connect(str(settings.DATA_DIR / "raw.sqlite3"), isolation_level=None)
raw.execute("pragma journal_mode=wal"); raw.execute("pragma synchronous=full")
raw.execute("create table e (id integer primary key, peg int, weight int)")
raw.execute("create table w (key text unique, entry int, nets text, at text)")
raw.execute("create index by_entry on w (entry)"); raw.execute("create index by_time on w (at)")
raw.executemany("insert into e values (?, ?, 0)", ((n, n) for n in range(48))); raw.commit()
pegs = itertools.cycle(enumerate({entries}, 1))
def site():
    peg, entry = next(pegs)
    body = {{"entries": [{{"key": str(uuid.uuid4()), "seq": 1, "entry": entry, "peg": str(peg),
             "status": "weighed", "nets": [256]}}], "waiting": 1, "last_seq": 1}}
    answer = client.post("/scales/{match}/send/", json.dumps(body), content_type="application/json",
                         headers={{"Authorization": "Bearer {token}"}})
    assert answer.status_code == 200, answer.content
def bare():
    raw.execute("begin immediate")
    raw.execute("select * from e where id = 7").fetchone()
    raw.execute("insert into w values (?, 7, '[256]', ?)", (str(uuid.uuid4()), str(time.time())))
    raw.execute("update e set weight = 256 where id = 7")
    raw.commit()
def cpu(act, times):
    started = time.process_time()
    for _ in range(times): act()
    return (time.process_time() - started) / times
cpu(site, 20), cpu(bare, 200)
ratios = []
for _ in range(11):
    limit = cpu(bare, 500)
    ratios.append(cpu(site, 10) / limit)
ratios.sort()
print("W7 one post over a raw transaction, CPU:", *(f"{{each:.0f}}" for each in ratios))
"""


def on_the_phone(home: Path) -> None:
    """From the press that agrees to the next peg on the screen, kept durably in between."""
    from playwright.sync_api import sync_playwright

    from tests.browser.scales import ScalesPhone
    from tests.tools import CHROMIUM

    site = Site(home / "phone", pegs=48)
    site.gather()
    site.start()
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            context = browser.new_context(viewport={"width": 390, "height": 844})
            phone = ScalesPhone(site, context)
            phone.come_in()
            phone.ready()
            for slower in (1, 4):
                tools = context.new_cdp_session(phone.page)
                tools.send("Emulation.setCPUThrottlingRate", {"rate": slower})
                phone.open_peg(1 if slower == 1 else 24)
                took = sorted(phone.page.evaluate(PRESS) for _ in range(20))
                sys.stdout.write(
                    f"last key to next peg, CPU {slower}x slower: median {median(took):.0f} ms, "
                    f"slowest {took[-1]:.0f} ms of {len(took)}\n"
                )
            browser.close()
    finally:
        site.stop()


def main() -> None:
    """Read the command line."""
    reading = argparse.ArgumentParser(description=__doc__)
    reading.add_argument("--postgres", action="store_true")
    reading.add_argument("--phone", action="store_true")
    reading.add_argument("--work", action="store_true")
    asked = reading.parse_args()
    memory = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108  a disk without a disk
    home = Path(tempfile.mkdtemp(prefix="drawbag-scales-", dir=memory))
    try:
        if asked.phone:
            on_the_phone(home)
        elif asked.work:
            work(home)
        elif asked.postgres:
            with postgres.server() as url, serving(home, "server", {"DATABASE_URL": url}) as site:
                report("PostgreSQL, no disk", site, bare(home, 0))
        else:
            counting = counter(home)
            with serving(home, "fast", {}) as site:
                report("SQLite, no disk", site, bare(home, 0))
            if counting is None:
                sys.stdout.write("No C compiler: the slow disk is left out.\n")
                return
            slow = {"LD_PRELOAD": str(counting), "FSYNC_DELAY_US": str(DELAY_US)}
            (home / "bare.sqlite3").unlink()
            with serving(home, "slow", slow) as site:
                report("SQLite, 5 ms an fsync", site, bare(home, DELAY_US / 1e6))
    finally:
        shutil.rmtree(home, ignore_errors=True)


if __name__ == "__main__":
    main()
