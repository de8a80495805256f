"""Publish a result, correct it, make it final: numbered versions, each kept as it was read out."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.contrib.auth.models import User
from django.utils import timezone
from django.utils.timezone import localtime

from league.files import result as result_file
from league.files.record import record_in
from league.models import Match, Result, Season, Stage
from league.operations.errors import RefusedError
from league.operations.facts import Gap, facts_of, gaps_of, marker
from league.operations.journal import write_down
from league.operations.objections import still_open
from league.operations.score import book_of, changed_since, document, gaps_in
from league.operations.store import add, writing
from league.rules.errors import RuleError
from league.rules.headlines import headline

# Weights still coming in while the result is worked out: so often it is worked out again.
TRIES = 3


def publish(
    match: Match,
    *,
    by: User | None,
    gaps_confirmed: bool = False,
    correcting: int | None = None,
    why: str = "",
    at: datetime | None = None,
) -> Result:
    """
    Publish the result of *match* as its next version.

    Refused while a peg is not weighed or in question, unless *gaps_confirmed*: the version then
    names them. A correction says which version it corrects and *why*; if another was published
    meanwhile it is refused. The result is worked out before the lock is taken, and once more if
    anything came in between: nothing slow happens while others wait to write.
    """
    at = at or timezone.now()
    for _ in range(TRIES):
        match = Match.objects.whole(match.pk)
        _may_be_published(match)
        newest = Result.objects.of(match).first()
        _must_be_newest(newest, correcting, why)
        before = marker(match)
        worked_out = _work_out(match, (newest.version if newest else 0) + 1, gaps_confirmed)
        if newest and _says_the_same(worked_out, newest.document):
            raise RefusedError(
                f"Nothing has changed since version {newest.version}: there is nothing to correct."
            )
        with writing():
            held = Match.objects.locked(match.pk)
            _may_be_published(held)
            _must_be_newest(Result.objects.of(held).first(), correcting, why)
            if marker(held) == before:
                return _write(held, worked_out, by, why.strip(), at)
    raise RefusedError(
        "Weights are still coming in faster than the result can be worked out. "
        "Wait until the scales are done, then publish."
    )


def as_it_would_be(match: Match, *, at: datetime | None = None) -> Result:
    """
    The version that publishing now would make, with its gaps; nothing is kept.

    Refused, in words, where nothing can be published.
    """
    at = at or timezone.now()
    match = Match.objects.whole(match.pk)
    _may_be_published(match)
    newest = Result.objects.of(match).first()
    worked_out = _work_out(match, (newest.version if newest else 0) + 1, gaps_confirmed=True)
    return Result(
        match=match,
        version=worked_out["version"],
        document=worked_out,
        headline=headline_of(worked_out),
        published_at=at,
        objections_until=_heard_until(match, at),
    )


def make_final(match: Match, *, by: User | None, at: datetime | None = None) -> Result:
    """
    Make the newest version final, once objections are closed and answered and nothing is open.

    It is the version and the document that were published; only when and by whom is added.
    """
    at = at or timezone.now()
    newest = Result.objects.of(match).first()
    if newest is not None and (open_now := gaps_of(facts_of(match))):
        listed = "\n".join(str(gap) for gap in open_now)
        raise RefusedError(f"Weigh or settle these before the result is final:\n{listed}")
    if newest is not None and (changed := changed_since(newest)):
        raise RefusedError(
            f"Something has changed since version {newest.version}, so a correction comes first. "
            + " ".join(changed)
        )
    with writing():
        match = Match.objects.locked(match.pk)
        result = Result.objects.of(match).first()
        if result is None:
            raise RefusedError("No result is published yet, so none can be made final.")
        if newest is None or result.version != newest.version:
            raise RefusedError(f"Version {result.version} was published meanwhile; look again.")
        if result.final_at:
            raise RefusedError(f"Version {result.version} is final already.")
        if open_objections := still_open(match):
            raise RefusedError(
                "Answer these objections before the result is final:\n" + "\n".join(open_objections)
            )
        if gaps := gaps_in(result):
            raise RefusedError(
                "Not everybody is weighed in the result as published. Put these right, then "
                "publish a correction:\n" + "\n".join(gaps)
            )
        if result.objections_until and at < result.objections_until:
            until = localtime(result.objections_until)
            raise RefusedError(
                f"Objections are heard until {until:%A} {until.day} {until:%B, %H:%M}. "
                "Make the result final after that."
            )
        result.final_at, result.final_by = at, by
        result.save(update_fields=["final_at", "final_by"])
        match.stage = Stage.FINAL
        match.save(update_fields=["stage"])
        if match.season_id:
            Season.objects.table_changed(match.season_id)
        write_down(
            f"Version {result.version} made final.", by=by, club=match.club, match=match, at=at
        )
    return result


def headline_of(kept: dict[str, Any]) -> str:
    """The answer of a kept document in a line, a record in it where there is one."""
    return headline(result_file.from_json(kept), record=record_in(kept))[:200]


def list_gaps(gaps: list[Gap]) -> str:
    """The gaps as a refusal lists them, what to do first."""
    listed = "\n".join(str(gap) for gap in gaps)
    return (
        "Not everybody is weighed. Weigh or settle these, or confirm that the result goes out "
        f"with them shown as open:\n{listed}"
    )


def _may_be_published(match: Match) -> None:
    if match.stage == Stage.CANCELLED:
        raise RefusedError("The match is cancelled, so it has no result.")
    if not match.is_drawn:
        raise RefusedError("The pegs are not drawn yet, so there is nothing to publish.")


def _must_be_newest(newest: Result | None, correcting: int | None, why: str) -> None:
    """A publication knows what it follows: nothing, or the version it corrects."""
    version = newest.version if newest else None
    if version != correcting:
        if version is None:
            raise RefusedError("No version is published yet, so there is none to correct.")
        raise RefusedError(f"Version {version} was published meanwhile; look again.")
    if correcting is not None and not why.strip():
        raise RefusedError("Say why the result is corrected: it is printed with it.")


def _work_out(match: Match, version: int, gaps_confirmed: bool) -> dict[str, Any]:
    facts = facts_of(match)
    gaps = gaps_of(facts)
    if gaps and not gaps_confirmed:
        raise RefusedError(list_gaps(gaps))
    try:
        worked_out = document(facts, book_of(match), version)
    except RuleError as error:
        raise RefusedError(str(error)) from error
    if not worked_out["anglers"]:
        raise RefusedError("Nobody has a peg, so there is nothing to publish.")
    return worked_out


def _says_the_same(ours: dict[str, Any], theirs: dict[str, Any]) -> bool:
    return {**ours, "version": None} == {**theirs, "version": None}


def _heard_until(match: Match, at: datetime) -> datetime:
    """Until when objections to what is published *at* are heard."""
    announced = match.objections_until
    if announced and announced > at:
        return announced
    return at + timedelta(hours=match.club.objection_hours)


def _write(
    match: Match, worked_out: dict[str, Any], by: User | None, why: str, at: datetime
) -> Result:
    result = add(
        Result(
            match=match,
            version=worked_out["version"],
            document=worked_out,
            headline=headline_of(worked_out),
            why=why,
            published_by=by,
            published_at=at,
            objections_until=_heard_until(match, at),
        )
    )
    match.stage = Stage.PUBLISHED
    match.save(update_fields=["stage"])
    if match.season_id:
        Season.objects.table_changed(match.season_id)
    said = f"Version {result.version} published."
    write_down(f"{said} {why}".strip(), by=by, club=match.club, match=match, at=at)
    return result
