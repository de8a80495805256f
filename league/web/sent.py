"""What a phone posts: JSON into entries, or a sentence that says what is wrong with it."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from league.operations.receive import Answer, Result, Sent
from league.operations.weigh import LONGEST_NOTE, MOST_NETS
from league.rules.lines import Status

MOST_ENTRIES = 200
MOST_BYTES = 256 * 1024
# What a column of whole seconds or numbers holds, and more than any clock is wrong by.
LARGEST = 2**62
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


class SentError(Exception):
    """The whole post cannot be read; nothing of it was kept."""


@dataclass(frozen=True, slots=True)
class Post:
    """One post of a phone: its entries, what it says of itself, and what could not be read."""

    entries: list[Sent]
    unreadable: list[Answer]
    clock: int | None = None  # its own time, in milliseconds since 1970
    waiting: int = 0
    last_seq: int = 0


@dataclass(slots=True)
class _Reader:
    """Takes values out of one posted entry and remembers the first slip."""

    row: dict[str, Any]
    slips: list[str] = field(default_factory=list)

    def whole(self, name: str, least: int = 0, most: int = LARGEST) -> int:
        """A whole number; true and false are none."""
        value = self.row.get(name)
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            self.slips.append(f"{name} is no whole number from {least} on.")
            return least
        return value

    def text(self, name: str, longest: int) -> str:
        """A short text; it may be missing."""
        value = self.row.get(name, "")
        if not isinstance(value, str):
            self.slips.append(f"{name} is no text.")
            return ""
        return value.replace("\x00", "")[:longest]


def read(body: bytes) -> Post:
    """Read a post. Raises `SentError`; one bad entry only makes itself unreadable."""
    if len(body) > MOST_BYTES:
        raise SentError(f"More than {MOST_BYTES // 1024} KB at once. Send fewer weights at a time.")
    try:
        post = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise SentError("This is no JSON.") from error
    if not isinstance(post, dict) or not isinstance(post.get("entries", []), list):
        raise SentError("A post is an object with a list of entries.")
    rows = post.get("entries", [])
    if len(rows) > MOST_ENTRIES:
        raise SentError(f"{len(rows)} weights at once; {MOST_ENTRIES} is the most. Send fewer.")
    entries, unreadable = [], []
    for row in rows:
        key = _key(row.get("key") if isinstance(row, dict) else None)
        if key is None:
            raise SentError("An entry without a key cannot be kept exactly once.")
        sent, slip = _entry(row, key)
        if sent is None:
            words = f"This weight cannot be read: {slip} Enter it again."
            unreadable.append(Answer(key, Result.REJECTED, words=words))
        else:
            entries.append(sent)
    about = _Reader(post)
    clock = about.whole("clock", least=-LARGEST) if "clock" in post else None
    waiting = about.whole("waiting", most=2**31 - 1) if "waiting" in post else len(rows)
    last_seq = about.whole("last_seq") if "last_seq" in post else 0
    if about.slips:
        raise SentError(about.slips[0])
    return Post(entries, unreadable, clock, waiting, last_seq)


def read_object(body: bytes) -> dict[str, Any]:
    """A small object, such as a secret and a name."""
    try:
        found = json.loads(body[:MOST_BYTES])
    except (ValueError, RecursionError) as error:
        raise SentError("This is no JSON.") from error
    if not isinstance(found, dict):
        raise SentError("An object is expected.")
    return {name: value for name, value in found.items() if isinstance(value, str)}


def skew_of(clock: int | None, now: datetime) -> int:
    """How many seconds a phone's clock is ahead of ours."""
    if clock is None:
        return 0
    return (clock - (now - EPOCH) // timedelta(milliseconds=1)) // 1000


def _entry(row: dict[str, Any], key: UUID) -> tuple[Sent | None, str]:
    reader = _Reader(row)
    nets = row.get("nets", [])
    if not isinstance(nets, list) or len(nets) > MOST_NETS:
        reader.slips.append(f"nets is no list of at most {MOST_NETS}.")
        nets = []
    if any(isinstance(net, bool) or not isinstance(net, int) for net in nets):
        reader.slips.append("A net is a whole number of drams or grams.")
    if row.get("status") not in {status.value for status in Status}:
        reader.slips.append("There is no such status.")
    corrects = row.get("corrects")
    if corrects is not None and _key(corrects) is None:
        reader.slips.append("It corrects an entry without a key.")
    seq, entry = reader.whole("seq"), reader.whole("entry", most=2**63 - 1)
    peg, note = reader.text("peg", 12), reader.text("note", LONGEST_NOTE)
    if reader.slips:
        return None, reader.slips[0]
    return (
        Sent(
            key=key,
            seq=seq,
            entry=entry,
            peg=peg,
            status=Status(row["status"]),
            nets=tuple(nets),
            note=note,
            corrects=_key(corrects),
            read_at=_moment(row.get("read_at")),
        ),
        "",
    )


def _key(value: Any) -> UUID | None:
    try:
        return UUID(value) if isinstance(value, str) else None
    except ValueError:
        return None


def _moment(value: Any) -> datetime | None:
    """A phone's own time; one that is beyond any calendar is left out."""
    if isinstance(value, bool) or not isinstance(value, int):
        return None
    try:
        return EPOCH + timedelta(milliseconds=value)
    except OverflowError:
        return None
