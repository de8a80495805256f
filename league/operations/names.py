"""
The name an angler is printed by, carried through everything that was ever published.

A result keeps its figures for ever, as they were read out. The names in it belong to the anglers:
when consent is taken back, or somebody asks to be erased, the name goes from every version, from
the draw's record and from what was written beside them. No figure, place or point changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db import models

from league.files.result_names import rename, rename_payee, reworded
from league.models import (
    Act,
    Angler,
    Decision,
    DrawEvent,
    DrawRecord,
    Entry,
    Handed,
    MatchPeg,
    Objection,
    PayoutSheet,
    Result,
    Season,
    SetAside,
    TinCount,
    WeighIn,
)

# Letters a column takes, which PostgreSQL holds and SQLite does not.
LONGEST = {"why": 200, "note": 200, "closed_why": 120, "what": 300, "answer": 300}
WORDS = frozenset(LONGEST)  # columns of free words


@dataclass(frozen=True, slots=True)
class Carried:
    """How many versions had the name, and matches whose free words must be looked at by hand."""

    versions: int
    shared: tuple[str, ...]


def carry_through(
    angler: Angler,
    *,
    old: Iterable[str],
    at: datetime,
    into: Angler | None = None,
    everywhere: bool = False,
) -> Carried:
    """
    Print *angler* by the name they are shown by now, wherever one of the *old* names stands.

    *into* makes the lines another record's, when two were one person. *everywhere* takes the name
    out of the journal as well, which says what was said then.
    The caller holds the write queue, and the names are saved already.
    """
    target = into or angler
    shown = target.shown_name
    names = {name for name in old if name}
    taken = _names_of_others(angler, target)
    versions, shared = 0, []
    seasons: set[int] = set()
    for result in Result.objects.naming(angler):
        renamed = rename(result.document, str(angler.pk), shown, new_id=str(target.pk), also=names)
        names |= renamed.old_names
        if renamed.shared or names & taken:
            shared.append(str(result))
            headline, why = result.headline, result.why
        else:
            headline = reworded(result.headline, names, shown)[:200]
            why = reworded(result.why, names, shown)[:300]
        before = (result.document, result.headline, result.why)
        if (renamed.document, headline, why) != before:
            result.document, result.headline, result.why = renamed.document, headline, why
            result.names_at = at
            result.save(update_fields=["document", "headline", "why", "names_at"])
            versions += 1
    # A name that somebody else has too is left in sentences: it may be theirs.
    own = names - taken
    for entry in Entry.objects.every_one_of(angler):
        _beside(entry, angler, target, own)
        if entry.match.season_id:
            seasons.add(entry.match.season_id)
    for season in seasons:
        Season.objects.table_changed(season)
    if everywhere:
        _out_of_the_journal(angler, own, shown)
    return Carried(versions, tuple(shared))


def _names_of_others(*these: Angler) -> set[str]:
    own = {angler.pk for angler in these}
    others = (each for each in Angler.objects.of(these[0].club) if each.pk not in own)
    return {name for each in others for name in (each.name, each.shown_name)}


def _beside(entry: Entry, angler: Angler, target: Angler, names: Iterable[str]) -> None:
    """What is written beside a result: the draw's names, decisions, objections, notes, money."""
    match, shown = entry.match, target.shown_name
    record = DrawRecord.objects.of(match)
    if record and str(entry.number) in record.names:
        record.names = {**record.names, str(entry.number): shown}
        record.save(update_fields=["names"])
    for row in _written(entry, record):
        changed = []
        for field in WORDS & {each.name for each in row._meta.concrete_fields}:
            said = getattr(row, field)
            now = reworded(said, names, shown)[: LONGEST.get(field, 200)]
            if now != said:
                setattr(row, field, now)
                changed.append(field)
        if changed:
            row.save(update_fields=changed)
    for sheet in PayoutSheet.objects.of(match):
        document = rename_payee(
            sheet.document, str(angler.pk), shown, new_id=str(target.pk), also=names
        )
        if document != sheet.document:
            sheet.document = document
            sheet.save(update_fields=["document"])
    for handed in Handed.objects.of(match):
        if handed.key == str(angler.pk):
            handed.key, handed.name = str(target.pk), shown
            handed.save(update_fields=["key", "name"])


def _written(entry: Entry, record: DrawRecord | None) -> Iterator[models.Model]:
    """
    Every row about the match in which an officer may have written a name.

    tests/house/test_names.py holds this against the tables: a new one needs its line here.
    """
    match = entry.match
    yield from Decision.objects.on(match)
    yield from Objection.objects.of(match)
    yield from WeighIn.objects.of(match)
    yield from SetAside.objects.of(match)
    yield from MatchPeg.objects.of(match)
    yield from TinCount.objects.of(match)
    if record is not None:
        yield from DrawEvent.objects.of(record)
    for payment in entry.payments.all():
        if hasattr(payment, "set_aside"):
            yield payment.set_aside


def _out_of_the_journal(angler: Angler, names: Iterable[str], shown: str) -> None:
    """Only the words of a line change; who, when and about what the database holds."""
    for name in names:
        for act in Act.objects.saying(angler.club, name):
            said = reworded(act.what, [name], shown)
            if said != act.what:
                Act.objects.reword(act, said[:300])
