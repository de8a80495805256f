"""What a results sheet says in sentences: how ties were split, what was struck off or decided."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from league.rules.figures import and_list, points_said
from league.rules.lines import AnglerLine, MatchResult, RungCheck, Split
from league.rules.policies import written as points_written
from league.rules.splits import RUNGS, rung_figures
from league.rules.weights import Unit, spoken, written
from league.sheets.faces import unbroken
from league.strip import BankPeg

UNITS = {
    Unit.LB_OZ: "Weighed in pounds and ounces.",
    Unit.KG: "Weighed in kilograms and grams.",
}


def ties(splits: Iterable[Split | None], unit: Unit, *, of_teams: bool = True) -> list[str]:
    """Every tie on points in the order of the table, each told once."""
    told = [say_tie(split, unit, of_teams=of_teams) for split in splits if split is not None]
    return list(dict.fromkeys(told))


def say_tie(split: Split, unit: Unit, *, of_teams: bool = True) -> str:
    """One tie as it is read out, both sides named."""
    first = split.rungs[0]
    level = spoken(int(first.ours), unit) if first.weighed else points_said(first.ours)
    both = f"{split.ahead} and {split.behind} both have {level}."
    if split.decided is None:
        return f"{both} Level on every tie-break, they share the place."
    ours, theirs = _figures(split.decided, unit)
    if not split.we_are_ahead:
        ours, theirs = theirs, ours
    are = "are" if of_teams else "is"
    rung = RUNGS[split.decided.rung]
    return f"{both} {split.ahead} {are} ahead on {rung}: {ours} against {theirs}."


def _figures(check: RungCheck, unit: Unit) -> tuple[str, str]:
    if check.weighed and not isinstance(check.ours, (tuple, list)):
        return unbroken(spoken(int(check.ours), unit)), unbroken(spoken(int(check.theirs), unit))
    return rung_figures(check, unit)


def notes_of(result: MatchResult, bank: Sequence[BankPeg], *, with_unit: bool = True) -> list[str]:
    """What the tables do not say: the unit, how many count in a section, best weight, left-outs."""
    said = [
        *([UNITS[result.unit]] if with_unit else []),
        *_sizes(result),
        *_best(result),
        *_struck_off(result),
    ]
    left_out = [number for peg in bank for number in peg.left_out]
    if left_out:
        said.append(f"Left out: peg{'s' if len(left_out) > 1 else ''} {', '.join(left_out)}.")
    if result.expected is not None and result.expected == result.section_points:
        total = points_written(result.section_points)
        said.append(f"Section points add up to {total}, as they must.")
    return said


def _sizes(result: MatchResult) -> Iterator[str]:
    sizes = {section.section: section.size for section in result.sections}
    if len(set(sizes.values())) > 1:
        each = and_list([f"{size} in {letter}" for letter, size in sizes.items()])
        yield f"Counted in each section: {each}."
    elif sizes and all(sizes):
        yield f"Counted in each section: {next(iter(sizes.values()))}."


def _best(result: MatchResult) -> Iterator[str]:
    best = [line for line in result.anglers if line.place == 1 and line.weight > 0]
    who = [
        ", ".join(part for part in (line.angler, line.team, f"peg {line.peg}") if part)
        for line in best
    ]
    if best:
        yield f"Best weight of the day: {'; '.join(who)}, {spoken(best[0].weight, result.unit)}."


def _struck_off(result: MatchResult) -> Iterator[str]:
    """Whoever's weight is not what was read on the scales, net by net."""
    for section in result.sections:
        for line in section.lines:
            if line.weight != sum(line.row.nets) and line.row.nets:
                yield _struck(line, result.unit)


def _struck(line: AnglerLine, unit: Unit) -> str:
    nets = " + ".join(written(net, unit) for net in line.row.nets)
    counts = written(line.weight, unit) if line.weight else "nothing"
    return f"Peg {line.row.peg}, {line.row.angler}: {counts} counts of {nets}."


def decisions_of(result: MatchResult) -> list[str]:
    """The official decisions that the lines carry, each by its angler."""
    return [
        line.row.decision
        # A club's own sheet names the angler in the sentence already.
        if line.row.decision.startswith(line.row.angler)
        else f"{line.row.angler}: {line.row.decision}"
        for section in result.sections
        for line in section.lines
        if line.row.decision
    ]
