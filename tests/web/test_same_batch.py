"""One batch sent six times at the same moment, to a real server on either database."""

from __future__ import annotations

import http.client
import json
import threading
import uuid
from collections import Counter
from contextlib import nullcontext
from pathlib import Path

import pytest

from tests import postgres
from tests.serving import Site

TIMES = 6
KEPT = """
import django; django.setup()
from league.models import SetAside, WeighIn
print(WeighIn.objects.count(), len(set(WeighIn.objects.values_list("key", flat=True))),
      SetAside.objects.count())
"""


@pytest.mark.skipif("sys.platform == 'win32'", reason="gunicorn does not run on Windows.")
@pytest.mark.parametrize(
    "database",
    [
        pytest.param("sqlite", marks=pytest.mark.sqlite),
        pytest.param("postgresql", marks=[pytest.mark.postgres, pytest.mark.long]),
    ],
)
def test_one_batch_sent_six_times_at_once_is_kept_once_and_never_refused(
    made: Path, tmp_path: Path, database: str
) -> None:
    """Twenty-four weights and a correction of each; on a server, looking first would refuse."""
    with postgres.server() if database == "postgresql" else nullcontext("") as url:
        site = Site(tmp_path, more={"DATABASE_URL": url}) if url else Site(tmp_path, like=made)
        site.start()
        try:
            token = _ask(site, "enter/", {"secret": site.scene["passes"]["len"]})["token"]
            entries = _entries(site.scene["entries"])
            answers: list[dict[str, str]] = []
            together = threading.Barrier(TIMES)

            def send() -> None:
                together.wait()
                found = _ask(site, "send/", {"entries": entries}, token)
                answers.extend(found["answers"])

            threads = [threading.Thread(target=send) for _ in range(TIMES)]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
            kept = [int(each) for each in site.run("-c", KEPT).split()]
        finally:
            site.stop()

    results = Counter(answer["result"] for answer in answers)
    created = Counter(answer["key"] for answer in answers if answer["result"] == "created")
    assert results == {"created": 48, "duplicate": 48 * (TIMES - 1)}
    assert max(created.values()) == 1
    assert kept == [48, 48, 24]


def _entries(pks: list[int]) -> list[dict[str, object]]:
    entries = []
    for place, pk in enumerate(pks):
        first, second = str(uuid.uuid4()), str(uuid.uuid4())
        about = {"entry": pk, "peg": str(place + 1), "status": "weighed"}
        entries.append({"key": first, "seq": 2 * place, "nets": [256], **about})
        entries.append(
            {"key": second, "seq": 2 * place + 1, "nets": [512], "corrects": first, **about}
        )
    return entries


def _ask(site: Site, path: str, body: dict[str, object], token: str = "") -> dict:
    link = http.client.HTTPConnection("127.0.0.1", site.port, timeout=60)
    headers = {"Content-Type": "application/json", "Authorization": f"Bearer {token}"}
    link.request("POST", f"/scales/{site.scene['match']}/{path}", json.dumps(body), headers)
    answer = link.getresponse()
    text = answer.read()
    link.close()
    assert answer.status == 200, text
    return json.loads(text)
