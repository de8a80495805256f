"""Objections: taken down while they are heard, answered once, and what came of them kept."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.timezone import localtime

from league.models import Club, Decision, Entry, Match, Objection, Outcome, Result, Season, Team
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing

LONGEST = 300
LONGEST_HEARD = 14 * 24  # hours: a fortnight


def object_to(
    match: Match,
    *,
    what: str,
    entry: Entry | None = None,
    team: Team | None = None,
    late_heard: bool = False,
    by: User | None,
    at: datetime | None = None,
) -> Objection:
    """
    Take down an objection of an angler or a team against the result in force.

    The club says how long objections are heard; what comes later is refused, unless it is heard
    all the same (*late_heard*), and then it says that it was late.
    """
    at = at or timezone.now()
    what = _words(what, "Say what the objection is to: it stands beside the result.")
    if (entry is None) == (team is None):
        raise RefusedError("Say who objects: one angler, or one team.")
    with writing():
        match = Match.objects.locked(match.pk)
        result = Result.objects.of(match).first()
        if result is None:
            raise RefusedError("No result is published yet, so there is nothing to object to.")
        if result.final_at:
            raise RefusedError(
                f"Version {result.version} is final: objections are closed. Correct the result if "
                "something in it is wrong."
            )
        if entry is not None and (entry.match_id != match.pk or entry.withdrawn_at):
            raise RefusedError(f"{entry.angler} does not fish this match.")
        if team is not None and not Entry.objects.of(match).of_team(team).exists():
            raise RefusedError(f"{team} does not fish this match.")
        until = result.objections_until
        late = until is not None and at > until
        if late and until is not None and not late_heard:
            raise RefusedError(
                f"Objections were heard until {moment(until)}. Tick that it is heard all the "
                "same, or leave it."
            )
        objection = add(
            Objection(
                match=match,
                result=result,
                entry=entry,
                team=team,
                what=what,
                made_at=at,
                heard_until=until,
                late=late,
                taken_by=by,
            )
        )
        _changed(match, at)
        write_down(f"Objection of {objection}", by=by, club=match.club, match=match, at=at)
    return objection


def answer(
    objection: Objection,
    *,
    outcome: Outcome,
    answer: str,
    decision: Decision | None = None,
    by: User | None,
    at: datetime | None = None,
) -> Objection:
    """
    Say what comes of an objection, and why; with the *decision* it led to, if it led to one.

    An answer is given once. A result that has to change because of it is corrected as always: a
    decision or a weight first, then the next version.
    """
    at = at or timezone.now()
    outcome = Outcome(outcome)
    answer = _words(answer, "Say why: the answer stands beside the result.")
    with writing():
        held = Objection.objects.locked(objection.pk)
        if not held.is_open:
            raise RefusedError(
                f"This objection is answered already: {held.get_outcome_display().lower()}."
            )
        if decision is not None and decision.match_id != held.match_id:
            raise RefusedError("That decision is about another match.")
        held.outcome, held.answer, held.decision = outcome, answer, decision
        held.answered_at, held.answered_by = at, by
        held.save()
        match = held.match
        _changed(match, at)
        said = f"Objection of {held.entry.angler if held.entry else held.team}"
        write_down(
            f"{said}: {outcome.label.lower()}. {answer}",
            by=by,
            club=match.club,
            match=match,
            at=at,
        )
    return held


def hear_for(club: Club, hours: int, *, by: User | None) -> None:
    """Say how long objections are heard after a result; results already out keep their time."""
    if not 0 < hours <= LONGEST_HEARD:
        raise RefusedError(f"Say how many hours, 1 to {LONGEST_HEARD}.")
    with writing():
        club.objection_hours = hours
        club.save(update_fields=["objection_hours"])
        write_down(f"Objections are heard for {hours} hours from now on.", by=by, club=club)


def still_open(match: Match) -> list[str]:
    """The objections nobody has answered, a line each."""
    return [str(each) for each in Objection.objects.still_open(match)]


def told(objection: Objection) -> tuple[str, str]:
    """An objection as it stands beside the result: what was objected, and what came of it."""
    who = str(objection.entry.angler if objection.entry else objection.team)
    late = ", after the time for objections, and heard" if objection.late else ""
    made = f"{who} objected on {moment(objection.made_at)}{late}: {objection.what}"
    if objection.is_open or objection.answered_at is None:
        return made, "Not answered yet."
    outcome = objection.get_outcome_display()
    return made, f"{outcome} on {moment(objection.answered_at)}. {objection.answer}"


def moment(at: datetime) -> str:
    """Sunday 24 January, 17:00."""
    local = localtime(at)
    return f"{date_format(local, 'l j F')}, {date_format(local, 'H:i')}"


def _changed(match: Match, at: datetime) -> None:
    """Kept pages of the result and of the table know by this that they are stale."""
    match.objected_at = at
    match.save(update_fields=["objected_at"])
    if match.season_id:
        Season.objects.table_changed(match.season_id)


def _words(typed: str, empty: str) -> str:
    words = " ".join(typed.split())
    if not words:
        raise RefusedError(empty)
    if len(words) > LONGEST:
        raise RefusedError(f"That is {len(words)} letters; {LONGEST} fit. Shorten it.")
    return words
