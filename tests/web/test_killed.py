"""A real server on a database file, killed while phones are sending."""

from __future__ import annotations

import http.client
import json
import signal
import threading
import uuid
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.serving import Site
from tests.tools import IN_CI

PHONES = 8
EACH = 60 if IN_CI else 20
# So many are kept when the server is killed.
KILLED_AT = (EACH, 3 * EACH, 5 * EACH) if IN_CI else (3 * EACH,)


class Sender:
    """A phone: its token, what it has been told is kept, and what it holds."""

    def __init__(self, site: Site, number: int, news: threading.Condition) -> None:
        self.site = site
        self.news = news
        answer = self._post("enter/", {"secret": site.scene["passes"]["len"], "name": str(number)})
        assert answer is not None
        self.token = answer["token"]
        self.kept: set[str] = set()
        self.waiting = {
            str(uuid.uuid5(uuid.NAMESPACE_URL, f"{number}/{seq}")): self._entry(number, seq)
            for seq in range(EACH)
        }

    def _entry(self, number: int, seq: int) -> dict[str, Any]:
        place = seq % len(self.site.scene["entries"])
        return {
            "seq": seq,
            "entry": self.site.scene["entries"][place],
            "peg": str(place + 1),
            "status": "weighed",
            "nets": [256 + number],
        }

    def send_all(self) -> None:
        """Send one at a time and stop at the first that is not answered."""
        for key, entry in list(self.waiting.items()):
            answer = self._post("send/", {"entries": [entry | {"key": key}]})
            if answer is None:
                break
            [told] = answer["answers"]
            assert told["result"] in {"created", "duplicate"}, told
            del self.waiting[key]
            with self.news:
                self.kept.add(key)
                self.news.notify()

    def _post(self, path: str, body: dict[str, Any]) -> dict[str, Any] | None:
        link = http.client.HTTPConnection("127.0.0.1", self.site.port, timeout=10)
        headers = {"Content-Type": "application/json"}
        if hasattr(self, "token"):
            headers["Authorization"] = f"Bearer {self.token}"
        try:
            address = f"/scales/{self.site.scene['match']}/{path}"
            link.request("POST", address, json.dumps(body), headers)
            answer = link.getresponse()
            text = answer.read()
        except (OSError, http.client.HTTPException):
            return None
        finally:
            link.close()
        assert answer.status == 200, text
        found: dict[str, Any] = json.loads(text)
        return found


@pytest.mark.sqlite
@pytest.mark.skipif("sys.platform == 'win32'", reason="gunicorn does not run on Windows.")
def test_killed_among_hundreds_of_weights_every_acknowledged_one_is_there_and_none_twice(
    made: Path, tmp_path: Path
) -> None:
    site = Site(tmp_path, like=made)
    site.start()
    try:
        news = threading.Condition()
        phones = [Sender(site, number, news) for number in range(PHONES)]
        kills = 0
        for enough in KILLED_AT:
            threads = [threading.Thread(target=phone.send_all) for phone in phones]
            for thread in threads:
                thread.start()
            with news:
                reached = news.wait_for(
                    lambda: sum(len(phone.kept) for phone in phones) >= enough,  # noqa: B023
                    timeout=60,
                )
            assert reached
            site.stop(signal.SIGKILL)
            kills += 1
            for thread in threads:
                thread.join()
            rows = Counter(key for (key,) in site.ask("select key from league_weighin"))
            acknowledged = {key for phone in phones for key in phone.kept}
            assert {uuid.UUID(key) for key in acknowledged} <= {uuid.UUID(key) for key in rows}
            assert max(rows.values()) == 1
            site.start()

        for phone in phones:
            phone.send_all()
        rows = Counter(key for (key,) in site.ask("select key from league_weighin"))
        sound = site.ask("pragma integrity_check")
    finally:
        site.stop()

    assert kills == len(KILLED_AT)
    assert all(not phone.waiting for phone in phones)
    assert len(rows) == PHONES * EACH
    assert max(rows.values()) == 1
    assert sound == [("ok",)]
