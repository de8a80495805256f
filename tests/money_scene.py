"""A fished match with pools, worked by hand: six at £10, and what each of them takes."""

from __future__ import annotations

from django.contrib.auth.models import User

from league.models import Club, Entry, Match
from league.operations.money import announce_pools, take
from league.operations.weigh import settle as settle_weight
from league.rules.pools_plan import Fee, Plan, Split
from tests.builders import make_fished_match, make_weigh_in

WEIGHTS = {"A": ["12-8", "9-4", "blank"], "B": ["3-2", "3-2", "1-0"]}
# Of £10: £2 peg fee, £5 frame (£30: £18 and £12 to pegs 1 and 2), £3 sections (£9 each: nobody is
# left in A, pegs 4 and 5 are level in B).
PLAN = Plan(
    stake=1000, fees=(Fee("Peg fees", 200),), frame=500, frame_split=Split.parse("60/40"),
    section=300,
)  # fmt: skip


def match_with_pools(club: Club, *, by: User, plan: Plan = PLAN) -> Match:
    """The match, its pools announced and nobody paid yet."""
    match = make_fished_match(club, weights=WEIGHTS)
    announce_pools(match, plan, by=by)
    return match


def on_peg(match: Match, number: int) -> Entry:
    """Who sits on a peg."""
    return Entry.objects.of(match).with_names().get(match_peg__peg__number=str(number))


def pay(match: Match, *numbers: int, by: User) -> None:
    """Take the stakes of the anglers on these pegs; of everybody where none is named."""
    for number in numbers or range(1, 7):
        take(on_peg(match, number), by=by)


def correct(match: Match, number: int, figure: str, *, by: User) -> None:
    """Put a weight right."""
    settle_weight(make_weigh_in(on_peg(match, number), figure), why="Misread.", by=by)


def key(match: Match, number: int) -> str:
    """The key of the angler on a peg."""
    return str(on_peg(match, number).angler_id)
