"""What one section is scored by: weights that count, its size, its scale, what a blank gets."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from league.rules.lines import Points, Row, Status
from league.rules.nets import counted_nets
from league.rules.placings import spread
from league.rules.rulebook import Rulebook, SectionRules
from league.rules.scale import Scale, Sizes, capped
from league.rules.statuses import FISHED, ScoreRule, SectionFacts


@dataclass(slots=True)
class Catch:
    """A row with what counts of it: the weight after limits and penalties, the status as scored."""

    row: Row
    status: Status
    weight: int
    counted: tuple[int, ...]
    held: int = 0  # a disqualified angler's weight, where it keeps the place open

    @property
    def placed(self) -> bool:
        """Whether the weight is placed: it stands, and no decision stands in its way."""
        return self.weight > 0 and self.status in FISHED and self.row.decided is None


def catch(row: Row, book: Rulebook) -> Catch:
    """Work out what counts of *row*'s nets."""
    counted = counted_nets(row.nets, book.net)
    if counted is None or row.status is Status.DISQUALIFIED:
        nets = row.nets if counted is None else counted
        return Catch(row, Status.DISQUALIFIED, 0, counted or (0,) * len(row.nets), sum(nets))
    if row.status not in (Status.WEIGHED, Status.WITHDREW):
        return Catch(row, row.status, 0, counted)
    weight = max(0, sum(counted) - row.weight_penalty)
    status: Status = row.status
    if status is Status.WEIGHED and not weight:
        status = Status.BLANK
    return Catch(row, status, weight, counted)


def rule_for(status: Status, rules: SectionRules) -> ScoreRule:
    """The rule that scores an angler of this *status* who is not placed by weight."""
    return {
        Status.WEIGHED: rules.blank,
        Status.BLANK: rules.blank,
        Status.NOT_WEIGHED: rules.not_weighed,
        Status.WITHDREW: rules.withdrew,
        Status.ABSENT: rules.absent,
        Status.VACANT: rules.vacant,
        Status.DISQUALIFIED: rules.disqualified,
    }[status]


def scales(
    sizes: Mapping[str, int], teams: int, rules: SectionRules
) -> dict[str, tuple[Scale, Scale]]:
    """The scale of every section, as it stands and under the cap; *sizes* are their Ns."""
    match = sum(sizes.values())
    whole = {
        section: rules.direction.rule.scale(Sizes(size, match, teams), rules.top)
        for section, size in sizes.items()
    }
    cap = rules.cap.rule(list(whole.values()))
    return {section: (scale, capped(scale, cap)) for section, scale in whole.items()}


def facts_of(
    size: int,
    weights: Sequence[int],
    placed_points: Sequence[Points],
    blanks: int,
    teams: int,
    scale: tuple[Scale, Scale],
    rules: SectionRules,
) -> SectionFacts:
    """What the status rules need to know, with what a blank and an absent angler score here."""
    whole, under_cap = scale
    facts = SectionFacts(
        size=size,
        with_fish=len(weights),
        last_weigher=placed_points[-1] if placed_points else 0,
        teams=teams,
        blanks=blanks,
        scale=under_cap,
    )
    blank_rule = rules.blank if weights or rules.all_blank is None else rules.all_blank
    # The cap binds the blank whatever it is scored by, a plain number included.
    blank = blank_rule.rule(facts) or 0
    if under_cap is not whole:
        blank = min(blank, max(under_cap.of_place, default=blank))
    facts.blank = blank
    facts.scale = whole
    facts.absent = rules.absent.rule(facts)
    return facts


def placed_points(weights: Sequence[int], scale: Scale, rules: SectionRules) -> list[Points]:
    """Points for the *weights*, heaviest first."""
    places = scale.of_place
    if len(weights) > len(places):
        # A place held open for a disqualified angler can lie past the section's size.
        places = [scale.at(place) for place in range(1, len(weights) + 1)]
    return spread(weights, places, rules.equal)


@lru_cache(maxsize=4096)
def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """
    A key that puts peg 9 before peg 10, and 10 before 10A.

    >>> sorted(["10A", "9", "10"], key=natural)
    ['9', '10', '10A']
    """
    return tuple(
        (0, int(part), "") if part.isdecimal() else (1, 0, part)
        for part in re.findall(r"\d+|\D+", text)
    )
