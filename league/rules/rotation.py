"""Sections and end pegs shared fairly over a season, while every round stays a draw."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from league.rules.draw_chain import Stream, pick
from league.rules.errors import DrawError

Below = Callable[[int], int]

MOST_ATTEMPTS = 1000


@dataclass(frozen=True, slots=True)
class LineUp:
    """
    A team before it is drawn who fishes which section: its members in the captain's order.

    *visits* says how often each member fished each section so far, in the order of the sections;
    left out, nobody has fished any. *needing* are the members, counted from 0, who need an
    accessible peg.
    """

    code: str
    members: int
    visits: tuple[tuple[int, ...], ...] = ()
    needing: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class DrawnLineUps:
    """
    Each team's sections in the order of its members, and the attempt that stands.

    *ways* says of each team which way of how many equally fair ones was drawn, counted from 0.
    """

    sections: Mapping[str, tuple[str, ...]]
    attempt: int | None = None
    ways: Mapping[str, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Shares:
    """
    All the fairest ways to share sections among the members of one team.

    A way costs 2v + 1 for each member who fished the section v times before, which is by how much
    the squares of all visits grow; so whoever was there least goes there now.
    """

    visits: tuple[tuple[int, ...], ...]
    places: tuple[int, ...]
    allowed: tuple[frozenset[int] | None, ...] = field(default=())

    def count(self) -> int:
        """How many ways are fairest; 0 where the bans leave none."""
        return self._table()(0, self.places)[1]

    def nth(self, index: int) -> tuple[int, ...]:
        """The fairest way number *index* from 0, in the order of the sections member by member."""
        ways, room, chosen = self._table(), self.places, []
        for member in range(len(self.visits)):
            cost = ways(member, room)[0]
            for section, left in enumerate(room):
                here = self._cost(member, section)
                if here is None or not left:
                    continue
                then = _less(room, section)
                rest, count = ways(member + 1, then)
                if not count or here + rest != cost:
                    continue
                if index < count:
                    chosen.append(section)
                    room = then
                    break
                index -= count
        return tuple(chosen)

    def _cost(self, member: int, section: int) -> int | None:
        allowed = self.allowed[member] if self.allowed else None
        if allowed is not None and section not in allowed:
            return None
        return 2 * self.visits[member][section] + 1

    def _table(self) -> Callable[[int, tuple[int, ...]], tuple[int, int]]:
        """Least cost, and how many ways reach it, by the member in turn and the room left."""

        @cache
        def ways(member: int, room: tuple[int, ...]) -> tuple[int, int]:
            if member == len(self.visits):
                return 0, 1
            best, count = 0, 0
            for section, left in enumerate(room):
                here = self._cost(member, section)
                if here is None or not left:
                    continue
                rest, ways_on = ways(member + 1, _less(room, section))
                if not ways_on:
                    continue
                if not count or here + rest < best:
                    best, count = here + rest, ways_on
                elif here + rest == best:
                    count += ways_on
            return best, count

        return ways


def share_sections(
    visits: Sequence[Sequence[int]],
    below: Below,
    *,
    per_section: int = 1,
    allowed: Sequence[Collection[int] | None] | None = None,
) -> tuple[int, ...]:
    """
    Draw one of the fairest ways to share sections, each as likely as any other.

    *visits* has a row a member and a column a section. With a full team and no bans everybody
    fishes every section equally often over as many rounds as there are sections.
    """
    return share(visits, below, per_section=per_section, allowed=allowed)[0]


def share(
    visits: Sequence[Sequence[int]],
    below: Below,
    *,
    per_section: int = 1,
    allowed: Sequence[Collection[int] | None] | None = None,
) -> tuple[tuple[int, ...], int, int]:
    """The same, with which way it is, counted from 0, and of how many."""
    rows = tuple(tuple(row) for row in visits)
    bans = tuple(None if only is None else frozenset(only) for only in allowed or ())
    sections = len(rows[0]) if rows else 0
    if len(rows) > sections * per_section:
        raise DrawError(
            f"{len(rows)} members do not fit into {sections} sections of {per_section} each."
        )
    shares = Shares(rows, (per_section,) * sections, bans)
    count = shares.count()
    if not count:
        raise DrawError(
            "The members who need accessible pegs cannot all be in a section that has one. "
            "Mark another peg as accessible."
        )
    way = below(count)
    return shares.nth(way), way, count


def draw_line_ups(
    seed: str,
    letters: Sequence[str],
    teams: Sequence[LineUp],
    *,
    accessible: Mapping[str, int] | None = None,
    per_section: int = 1,
) -> DrawnLineUps:
    """
    Draw which member of each team fishes which section.

    *accessible* says how many such pegs each section has. Where two teams or more have members
    who need one, all teams are drawn again until every section has enough.
    """
    room = accessible or {}
    fit = [n for n, letter in enumerate(letters) if room.get(letter, 0)]
    compete = sum(bool(team.needing) for team in teams) > 1
    for attempt in range(1, MOST_ATTEMPTS + 1):
        drawn: dict[str, tuple[str, ...]] = {}
        ways: dict[str, tuple[int, int]] = {}
        wanted = dict.fromkeys(letters, 0)
        for team in teams:
            label = f"team/{team.code}/{attempt}" if compete else f"team/{team.code}"
            visits = team.visits or ((0,) * len(letters),) * team.members
            bans = [fit if member in team.needing else None for member in range(team.members)]
            chosen, way, count = share(
                visits, Stream(seed, label).below, per_section=per_section, allowed=bans
            )
            ways[team.code] = way, count
            drawn[team.code] = tuple(letters[section] for section in chosen)
            for member in team.needing:
                wanted[drawn[team.code][member]] += 1
        short = [letter for letter in letters if wanted[letter] > room.get(letter, 0)]
        if not short:
            return DrawnLineUps(drawn, attempt if compete else None, ways)
        if not compete:
            break
    raise DrawError(
        f"Section {short[0]} has {room.get(short[0], 0)} accessible pegs, and more members who "
        "need one come out in it however often it is drawn. Mark another peg as accessible."
    )


def debt_bag(had: Sequence[int], give: int, below: Below) -> tuple[int, ...]:
    """
    Who gets an end peg this time: those with the fewest so far, lots among the level at the cut.

    Counts never drift apart by more than one, but some know beforehand what they get;
    `ticket_bag` is gentler.
    """
    _enough(had, give)
    lucky: list[int] = []
    for level in sorted(set(had)):
        waiting = [team for team, count in enumerate(had) if count == level]
        if len(waiting) <= give - len(lucky):
            lucky += waiting
            continue
        while len(lucky) < give:
            lucky.append(pick(waiting, below))
    return tuple(sorted(lucky))


def ticket_bag(had: Sequence[int], give: int, below: Below) -> tuple[int, ...]:
    """Who gets an end peg this time: each end peg fewer than the most doubles the tickets."""
    _enough(had, give)
    tickets = {team: 2 ** (max(had) - count) for team, count in enumerate(had)}
    lucky: list[int] = []
    for _ in range(give):
        lucky.append(ticket(tickets, below))
        del tickets[lucky[-1]]
    return tuple(sorted(lucky))


def ticket(tickets: Mapping[int, int], below: Below) -> int:
    """Draw one ticket, and say whose it is; tickets lie in the order of their holders."""
    number = below(sum(tickets.values()))
    for holder, count in sorted(tickets.items()):
        if number < count:
            return holder
        number -= count
    raise DrawError("There are no tickets to draw.")


def _enough(had: Sequence[int], give: int) -> None:
    if not 0 <= give <= len(had):
        raise DrawError(f"{give} end pegs cannot be shared among {len(had)}, one each.")


def _less(room: tuple[int, ...], section: int) -> tuple[int, ...]:
    return (*room[:section], room[section] - 1, *room[section + 1 :])
