"""Official decisions: disqualify, penalise, allow a late weight, void a peg; and lift one."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Decision, DecisionKind, Entry, Match, Season, Team
from league.operations.errors import RefusedError
from league.operations.facts import say_decision
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.operations.weigh import LARGEST
from league.rules.lines import Points
from league.rules.weights import Unit

LONGEST_WHY = 300
ABOUT_AN_ANGLER = {
    DecisionKind.DISQUALIFIED,
    DecisionKind.WEIGHT,
    DecisionKind.LATE_WEIGHT,
    DecisionKind.VOID_PEG,
}
NEEDS_POINTS = {DecisionKind.POINTS, DecisionKind.VOID_PEG}
NEEDS_A_WEIGHT = {DecisionKind.WEIGHT, DecisionKind.LATE_WEIGHT}


def decide(
    match: Match,
    *,
    kind: DecisionKind,
    entry: Entry | None = None,
    team: Team | None = None,
    points: Points | None = None,
    weight: int | None = None,
    why: str,
    by: User | None,
) -> Decision:
    """
    Decide on an angler or, with penalty points, on a whole team; *weight* is in drams or grams.

    It counts in the next version that is published; what was published stays as it was read out.
    """
    kind = DecisionKind(kind)
    why = why.strip()
    _look_over(kind, entry, team, points, weight, why, Unit(match.unit))
    with writing():
        match = Match.objects.locked(match.pk)
        if entry is not None:
            if entry.match_id != match.pk:
                raise RefusedError(f"{entry.angler} is not entered in this match.")
            if entry.withdrawn_at:
                raise RefusedError(f"{entry.angler} was withdrawn before the draw.")
        if team is not None and not Entry.objects.of(match).of_team(team).exists():
            raise RefusedError(f"{team} does not fish this match.")
        same = Decision.objects.in_force(match).like(kind, entry)
        if kind != DecisionKind.POINTS and same.exists():
            raise RefusedError(
                f"{kind.label} is decided already for this angler; lift that decision first."
            )
        decision = add(
            Decision(
                match=match,
                kind=kind,
                entry=entry,
                team=team,
                points=points if kind in NEEDS_POINTS else None,
                weight=weight if kind in NEEDS_A_WEIGHT else None,
                why=why,
                by=by,
                at=timezone.now(),
            )
        )
        _write_down(f"Decided: {say_decision(decision, Unit(match.unit))}", match, by)
    return decision


def lift(decision: Decision, *, why: str, by: User | None) -> Decision:
    """Take a decision back; both it and its lifting stay on record."""
    why = why.strip()
    if not why:
        raise RefusedError("Say why the decision is lifted.")
    if decision.lifts_id:
        raise RefusedError("This line lifts a decision. Make the decision anew instead.")
    with writing():
        match = Match.objects.locked(decision.match_id)
        if Decision.objects.lifted(decision).exists():
            raise RefusedError("This decision was lifted already; look again.")
        lifting = add(
            Decision(
                match=match,
                kind=decision.kind,
                entry=decision.entry,
                team=decision.team,
                lifts=decision,
                why=why,
                by=by,
                at=timezone.now(),
            )
        )
        said = say_decision(decision, Unit(match.unit))
        _write_down(f"Lifted: {said} Because: {why}", match, by)
    return lifting


def _look_over(
    kind: DecisionKind,
    entry: Entry | None,
    team: Team | None,
    points: Points | None,
    weight: int | None,
    why: str,
    unit: Unit,
) -> None:
    if not why:
        raise RefusedError("Say why: it is printed with the result.")
    if len(why) > LONGEST_WHY:
        raise RefusedError(f"The reason has {len(why)} letters; {LONGEST_WHY} fit. Shorten it.")
    if kind in ABOUT_AN_ANGLER and entry is None:
        raise RefusedError("Say which angler the decision is about.")
    if (entry is None) == (team is None):
        raise RefusedError("Say whom the decision is about: one angler, or one team.")
    if kind == DecisionKind.POINTS and (points is None or points <= 0):
        raise RefusedError("Say how many points the penalty is: 1 or more.")
    if kind == DecisionKind.VOID_PEG and (points is None or points < 0):
        raise RefusedError("Say how many points the angler is given for the void peg.")
    if kind in NEEDS_A_WEIGHT:
        if weight is None or weight <= 0:
            raise RefusedError("Say which weight.")
        if weight > LARGEST[unit]:
            raise RefusedError("That is more than a net can weigh. Read it again.")


def _write_down(what: str, match: Match, by: User | None) -> None:
    if match.season_id:
        Season.objects.table_changed(match.season_id)
    write_down(what, by=by, club=match.club, match=match)
