"""What if: one season's table under two rule books, who moves, and which rule moves them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, TypeAlias

from league.rules.announced import read_out
from league.rules.lines import MatchResult, Reason, RoundScore, Row, SeasonResult, Split, TableLine
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.weights import spoken

# The table of the same facts under any rule book.
Table: TypeAlias = Callable[[Rulebook], SeasonResult]


@dataclass(frozen=True, slots=True)
class RuleChange:
    """One rule in which two books differ, and what it moves on its own."""

    keys: tuple[str, ...]  # as the file names them: "season.best"
    was: tuple[str, ...]  # the sentences that go
    becomes: tuple[str, ...]  # and those in their place
    moves: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class Pair:
    """One competitor's line in both tables."""

    now: TableLine
    then: TableLine
    why: Reason | None  # None where the place stays


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A season's table as it is and as it would be."""

    now: SeasonResult
    then: SeasonResult
    moves: tuple[Reason, ...]  # whoever changes place, in the order of the table as it would be
    changes: tuple[RuleChange, ...]

    @property
    def pairs(self) -> tuple[Pair, ...]:
        """Everybody in the order of the table as it would be."""
        before = {line.key: line for line in self.now.table}
        why = {move.facts["key"]: move for move in self.moves}
        return tuple(
            Pair(before[line.key], line, why.get(line.key))
            for line in self.then.table
            if line.key in before
        )


def what_if(now: SeasonResult, table: Table, book: Rulebook, other: Rulebook) -> WhatIf:
    """
    Compare the table *now*, by *book*, with the same facts under *other*.

    Each rule in which the books differ is also tried alone, so that it can be said which of them
    it is that moves anybody.
    """
    then = table(other)
    base = table(book)
    changes = tuple(
        replace(change, moves=moves(base, table(alone)))
        for change, alone in single_changes(book, other)
    )
    return WhatIf(now, then, moves(now, then), changes)


def scored_again(
    rounds: Sequence[tuple[int, MatchResult]], book: Rulebook
) -> list[tuple[int, MatchResult]]:
    """The *rounds* worked out again by *book* from the rows they were worked out from."""
    return [(number, score_match(rows_of(result), book)) for number, result in rounds]


def rows_of(result: MatchResult) -> list[Row]:
    """The facts a result was worked out from, as they stood when it was."""
    return [line.row for section in result.sections for line in section.lines]


def fitted(other: Rulebook, book: Rulebook) -> tuple[Rulebook, tuple[str, ...]]:
    """
    *other* as it can be laid over a season fished by *book*, and what was kept, in words.

    How many made a team, how many of them a section, and the unit are how it was fished and
    weighed: no rule changes that afterwards.
    """
    kept = []
    team = replace(other.team, size=book.team.size, per_section=book.team.per_section)
    if team.count is not None and team.count >= team.size:
        team = replace(team, count=None)
    if team.size != other.team.size or team.per_section != other.team.per_section:
        kept.append("The season was fished in its own teams and sections, which are kept.")
    net = other.net
    if other.unit != book.unit and net.limit is not None:
        net = book.net
        kept.append(
            f"A limit of {spoken(other.net.limit or 0, other.unit)} on a net cannot be laid over "
            "weights in another unit: the season's own rule on nets is kept."
        )
    return replace(other, unit=book.unit, team=team, net=net), tuple(kept)


def single_changes(book: Rulebook, other: Rulebook) -> Iterator[tuple[RuleChange, Rulebook]]:
    """Each rule in which *other* differs from *book*, and *book* with that rule alone changed."""
    for part, names in _groups(book, other):
        ours, theirs = getattr(book, part), getattr(other, part)
        if all(getattr(ours, name) == getattr(theirs, name) for name in names):
            continue
        alone: Rulebook = replace(
            book,
            **{part: replace(ours, **{name: getattr(theirs, name) for name in names})},
        )
        before, after = _sentences(book), _sentences(alone)
        yield (
            RuleChange(
                keys=tuple(
                    f"{part}.{name}"
                    for name in names
                    if getattr(ours, name) != getattr(theirs, name)
                ),
                was=tuple(said for said in before if said not in after),
                becomes=tuple(said for said in after if said not in before),
            ),
            alone,
        )


def _groups(book: Rulebook, other: Rulebook) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The rules that stand alone, and those that mean something only together."""
    names = tuple(each.name for each in fields(book.section))
    if book.section.direction != other.section.direction:
        # What a blank or an absent angler scores belongs to the way the points run.
        yield "section", names
    else:
        yield from (("section", (name,)) for name in names)
    yield "net", tuple(each.name for each in fields(book.net))
    yield "team", ("count",)
    yield "team", ("ties",)
    yield "season", ("best", "drop")
    for each in fields(book.season):
        if each.name not in ("best", "drop"):
            yield "season", (each.name,)


def _sentences(book: Rulebook) -> list[str]:
    return [said for part in read_out(book) for said in part.sentences]


def moves(now: SeasonResult, then: SeasonResult) -> tuple[Reason, ...]:
    """Whoever changes place from one table to the other, with what there is to say about it."""
    before = {line.key: line for line in now.table}
    after = {line.key: line for line in then.table}
    both = [key for key in after if key in before]
    return tuple(
        Reason("moved", _facts(before, after, key, now, then))
        for key in both
        if _place(before[key]) != _place(after[key])
    )


def _place(line: TableLine) -> tuple[int, bool]:
    return line.place, line.equal


def _facts(
    before: dict[str, TableLine],
    after: dict[str, TableLine],
    key: str,
    now: SeasonResult,
    then: SeasonResult,
) -> dict[str, Any]:
    mine, mine_then = before[key], after[key]
    relations = {
        other: (_relation(mine, before[other]), _relation(mine_then, after[other]))
        for other in after
        if other != key and other in before
    }
    past = [other for other, (was, is_) in relations.items() if is_ > was and is_ > 0]
    level = [other for other, (was, is_) in relations.items() if is_ != was and is_ == 0]
    behind = [other for other, (was, is_) in relations.items() if is_ < was and is_ < 0]
    facts: dict[str, Any] = {
        "key": key,
        "name": mine_then.name,
        "place": mine.place,
        "equal": mine.equal,
        "place_then": mine_then.place,
        "equal_then": mine_then.equal,
        "total": mine.total,
        "total_then": mine_then.total,
        "weighed": now.by_weight,
        "weighed_then": then.by_weight,
        "past": tuple(after[other].name for other in past),
        "level": tuple(after[other].name for other in level),
        "behind": tuple(after[other].name for other in behind),
        "short": mine_then.qualified is False and mine.qualified,
        "enough": mine_then.qualified and mine.qualified is False,
        **_rounds(mine, mine_then, now.by_weight == then.by_weight),
    }
    # The one just overtaken, or the one that just overtook: the nearest says it best.
    near = [*past[:1], *level[:1], *behind[-1:]]
    rising = mine_then.place < mine.place or (not behind and bool(past or level))
    if near:
        rival = near[0] if rising else near[-1]
        facts |= {
            "rival": after[rival].name,
            "rival_total": before[rival].total,
            "rival_total_then": after[rival].total,
            "split": _decided(mine, before[rival]),
            "split_then": _decided(mine_then, after[rival]),
        }
    return facts


def _relation(ours: TableLine, theirs: TableLine) -> int:
    """1 where we are above, 0 where the place is shared, -1 where we are below."""
    return (theirs.place > ours.place) - (theirs.place < ours.place)


def _rounds(mine: TableLine, mine_then: TableLine, comparable: bool) -> dict[str, Any]:
    """The rounds whose fate or score changes."""
    then = {each.round: each for each in mine_then.rounds}
    pairs = [(each, then[each.round]) for each in mine.rounds if each.round in then]
    scored = [(a, b) for a, b in pairs if a.score is not None or b.score is not None]
    rescored = [(a.round, a.score, b.score) for a, b in scored if a.score != b.score]
    return {
        "counts": tuple(_told(b) for a, b in pairs if a.dropped and not b.dropped),
        "dropped": tuple(_told(b) for a, b in pairs if b.dropped and not a.dropped),
        "rescored": tuple(rescored) if comparable else (),
        "every_round": bool(scored) and (not comparable or len(rescored) == len(scored)),
    }


def _told(score: RoundScore) -> tuple[int, Any]:
    return score.round, score.score


def _decided(mine: TableLine, theirs: TableLine) -> tuple[Any, ...] | None:
    """The rung that told the two apart, ours first, where their lines hold it."""
    for line, ours in ((mine, True), (theirs, False)):
        split: Split | None = line.split
        if split is None or {split.ahead, split.behind} != {mine.name, theirs.name}:
            continue
        if (check := split.decided) is None:
            return None
        figures = (check.ours, check.theirs) if ours else (check.theirs, check.ours)
        return check.rung, *figures, check.weighed, mine.place < theirs.place
    return None
