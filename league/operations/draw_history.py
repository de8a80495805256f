"""What the rounds before count for in a draw: sections fished, and end pegs had."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

from league.models import Entry, Match, MatchPeg
from league.rules import draw


def visits(
    match: Match, entries: Sequence[Entry], sheet: draw.Sheet
) -> tuple[tuple[int, tuple[int, ...]], ...]:
    """
    How often each angler fished each section of *sheet* in the season's other drawn rounds.

    Sections are matched by their letter; whoever has fished none of them is left out.
    """
    fished: defaultdict[int, Counter[str]] = defaultdict(Counter)
    for angler, letter in Entry.objects.sections_fished(_others(match)):
        fished[angler][letter] += 1
    rows = [
        (entry.number, tuple(fished[entry.angler_id][each.letter] for each in sheet.sections))
        for entry in entries
    ]
    return tuple((no, counts) for no, counts in rows if any(counts))


def ends(along: Sequence[tuple[str, int]]) -> tuple[int, ...]:
    """The first and the last peg of every section; *along* the bank are its letter and each peg."""
    first: dict[str, int] = {}
    last: dict[str, int] = {}
    for letter, peg in along:
        first.setdefault(letter, peg)
        last[letter] = peg
    return tuple(sorted({*first.values(), *last.values()}))


def had(match: Match, entries: Sequence[Entry]) -> tuple[tuple[int, int], ...]:
    """How many end pegs each team, or angler alone, had in the season, beside its first entry."""
    rounds = _others(match)
    at_the_end = MatchPeg.objects.ends(rounds)
    teams: Counter[int] = Counter()
    anglers: Counter[int] = Counter()
    for angler, team, match_peg in Entry.objects.pegs_had(rounds):
        if match_peg in at_the_end:
            (teams if team else anglers)[team or angler] += 1
    first: dict[tuple[bool, int], int] = {}
    for entry in entries:
        first.setdefault((bool(entry.team_id), entry.team_id or entry.angler_id), entry.number)
    counted = (
        (no, (teams if in_team else anglers)[whose]) for (in_team, whose), no in first.items()
    )
    return tuple(sorted((no, count) for no, count in counted if count))


def _others(match: Match) -> list[Match]:
    if match.season is None:
        return []
    return [
        each
        for each in Match.objects.rounds_of(match.season)
        if each.pk != match.pk and each.is_drawn
    ]
