"""A captain's line-up named after the draw: the team has its pegs, and says who fishes which."""

from __future__ import annotations

from collections.abc import Mapping

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Angler, DrawRecord, Entry, Match, Stage, Team
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import writing
from league.rules import draw


def name_members(
    match: Match, team: Team, anglers: Mapping[int, Angler], *, by: User | None
) -> list[Entry]:
    """
    Put the members of *team* on the pegs it drew: *anglers* by the keys of the team's entries.

    A number on the draw sheet is the team's place in a section, so the draw and its record stand
    whoever fishes there. The same anglers as before, each once, and nobody of them weighed yet.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        if match.stage not in {Stage.PLANNED, Stage.DRAWN}:
            raise RefusedError("The result is published, so the line-up cannot change any more.")
        record = DrawRecord.objects.of(match)
        if record and record.frozen_at and draw.Sheet.parse(record.sheet).to_place:
            raise RefusedError(
                f"The draw says who of {team} fishes which section, and its record shows it. "
                "Whoever does not come is replaced by a reserve."
            )
        entries = [entry for entry in Entry.objects.all_locked(match) if entry.team_id == team.pk]
        _look_over(team, entries, anglers)
        moving = [entry for entry in entries if entry.angler_id != anglers[entry.pk].pk]
        if moving and Entry.objects.of(match).of_team(team).weighed().exists():
            raise RefusedError(f"A member of {team} is weighed, so its line-up stays as it is.")
        for entry in moving:
            angler = anglers[entry.pk]
            peg = entry.match_peg
            needs = any(each.easy_access for each in entries if each.angler_id == angler.pk)
            if needs and peg and not peg.peg.easy_access:
                raise RefusedError(f"{angler} needs an easy-access peg, and {peg} is none.")
        _swap(match, moving, anglers)
        if moving:
            said = ", ".join(
                f"{entry.match_peg or entry.section} {entry.angler}" for entry in moving
            )
            write_down(f"{team}: {said}."[:300], by=by, club=match.club, match=match)
    return entries


def _look_over(team: Team, entries: list[Entry], anglers: Mapping[int, Angler]) -> None:
    here = sorted(entry.angler_id for entry in entries)
    if not entries:
        raise RefusedError(f"Nobody of {team} is booked in.")
    if {entry.pk for entry in entries} != set(anglers):
        raise RefusedError("The line-up was changed meanwhile; look again.")
    if sorted(angler.pk for angler in anglers.values()) != here:
        twice = {a.name for a in anglers.values() if list(anglers.values()).count(a) > 1}
        raise RefusedError(
            f"{' and '.join(sorted(twice))} cannot fish two pegs. Name every member once."
            if twice
            else "Only those booked in for the team can be named. Bring a reserve in first."
        )


def _swap(match: Match, moving: list[Entry], anglers: Mapping[int, Angler]) -> None:
    """Everybody out and in again: an angler is in a match once, at every moment."""
    was = {entry.angler_id: entry for entry in moving}
    needs = {entry.angler_id: (entry.easy_access, entry.reserve) for entry in moving}
    for entry in moving:
        entry.withdrawn_at = timezone.now()
    Entry.objects.bulk_update(moving, ["withdrawn_at"])
    for entry in moving:
        entry.angler, entry.withdrawn_at = anglers[entry.pk], None
        if entry.angler_id in was:
            entry.easy_access, entry.reserve = needs[entry.angler_id]
    Entry.objects.bulk_update(moving, ["angler", "easy_access", "reserve"])
    Entry.objects.bulk_update(moving, ["withdrawn_at"])
    record = DrawRecord.objects.of(match)
    if record and record.frozen_at:
        names = {str(entry.number): entry.angler.shown_name for entry in moving}
        record.names = {**record.names, **names}
        record.save(update_fields=["names"])
