"""Other rules for a season: freely until a round is published, then with a reason, on record."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib.auth.models import User
from django.utils import timezone

from league.files import rulebook as rulebook_file
from league.models import DrawRecord, Entry, Match, Result, RulesChange, Season, Stage
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.operations.table import published
from league.operations.what_if import suppose
from league.rules import words
from league.rules.rulebook import Rulebook
from league.rules.what_if import WhatIf, what_if


@dataclass(frozen=True, slots=True)
class Ahead:
    """What other rules would do to a season that has begun."""

    book: Rulebook
    last_round: int  # the last one published
    at_once: WhatIf  # the rounds keep the points they were published with
    corrected: WhatIf  # every round published once more, under these rules
    notes: tuple[str, ...]

    @property
    def moved(self) -> list[str]:
        """Who changes place at once, a sentence each; or that nobody does."""
        unit = self.at_once.then.unit
        return [
            f"{move.facts['name']}: {words.say(move, unit)}" for move in self.at_once.moves
        ] or ["Nobody changed place."]


def last_published(season: Season) -> int:
    """The last round of *season* with a result; 0 where there is none yet."""
    return max((result.match.round or 0 for result in Result.objects.rounds_of(season)), default=0)


def look_ahead(season: Season, other: Rulebook) -> Ahead:
    """
    What *other* would move in the table of *season*, writing nothing.

    A round keeps the points it was published with: it takes up the new rules when a correction of
    it is published. What the season makes of its rounds changes at once.
    """
    _may_be_laid_over(season, other)
    told = published(season)
    book = rulebook_file.from_dict(season.book)
    supposed = suppose(season, other)
    return Ahead(
        other,
        max((number for number, _ in told.rounds), default=0),
        what_if(told.table(book), told.table, book, other),
        supposed.answer,
        supposed.notes,
    )


def change_rules(
    season: Season, book: Rulebook, *, why: str = "", by: User | None
) -> RulesChange | None:
    """
    Announce *book* for *season*.

    Once a round is published it takes a reason; the book as it was, who changed it and what moved
    are then kept for everybody to read, and returned.
    """
    # Worked out before the queue is held: a long season takes a moment.
    ahead = look_ahead(season, book) if last_published(season) else None
    if ahead and not why.strip():
        raise RefusedError(
            f"Round {ahead.last_round} is published under the rules as announced. Say why they "
            "change in mid-season: it is printed with the rules."
        )
    with writing():
        season = Season.objects.locked(season.pk)
        was = season.book
        becomes = rulebook_file.as_dict(book)
        if was == becomes:
            raise RefusedError("These are the rules of the season already.")
        if last_published(season) != (ahead.last_round if ahead else 0):
            raise RefusedError("A round was published meanwhile; look again at what this moves.")
        _may_be_laid_over(season, book)
        season.book = becomes
        season.table_version += 1
        season.save(update_fields=["book", "table_version"])
        for match in Match.objects.rounds_of(season):
            _follow(match, book)
        change = None
        said = f"Rules of {season} changed to {book.name}."
        if ahead:
            change = add(
                RulesChange(
                    season=season,
                    was=was,
                    becomes=becomes,
                    after_round=ahead.last_round,
                    moved=ahead.moved,
                    why=why.strip(),
                    by=by,
                    at=timezone.now(),
                )
            )
            said = f"Rules of {season} changed after round {ahead.last_round}: {why.strip()}"
        write_down(said, by=by, club=season.league.club)
    return change


def _follow(match: Match, book: Rulebook) -> None:
    """A round not drawn yet is weighed and made up as the rules now say."""
    if match.stage != Stage.PLANNED:
        return
    anew = match.per_section != book.team.per_section
    match.unit, match.per_section = book.unit, book.team.per_section
    match.save(update_fields=["unit", "per_section"])
    for entry in Entry.objects.of(match) if anew else ():
        # Who fishes where was chosen for another number in a section.
        entry.section = None
        entry.alone_in_section = entry.team_id is not None and match.per_section == 1
        entry.save(update_fields=["section", "alone_in_section"])


def _may_be_laid_over(season: Season, book: Rulebook) -> None:
    """How a season is drawn and weighed cannot change once it has been drawn."""
    own = rulebook_file.from_dict(season.book)
    faults = []
    if own.unit is not book.unit:
        faults.append(f"weighed in {own.unit.value}")
    if (own.team.size, own.team.per_section) != (book.team.size, book.team.per_section):
        faults.append(f"drawn in teams of {own.team.size} with {own.team.per_section} in a section")
    if not faults:
        return
    matches = list(Match.objects.rounds_of(season))
    drawn = [
        match
        for match in matches
        if match.is_drawn or ((record := DrawRecord.objects.of(match)) and record.frozen_at)
    ]
    if drawn:
        raise RefusedError(
            f"{drawn[0]} was {' and '.join(faults)}. Keep that for the season; the other rules "
            "can change."
        )
