"""What was taken down on the bank, read in a few questions: entries, figures, decisions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils import timezone
from django.utils.formats import date_format

from league.models import Decision, DecisionKind, Entry, Match, SetAside, WeighIn
from league.operations.errors import RefusedError
from league.operations.weigh import say_figure
from league.rules.lines import Points, Row, Status
from league.rules.weights import Unit, spoken

WHO_DECIDES = "match secretary"  # the one office that may


@dataclass(frozen=True, slots=True)
class Standing:
    """The figures of one peg that have not been set aside, in the order they came."""

    figures: tuple[WeighIn, ...]

    @property
    def weigh_in(self) -> WeighIn | None:
        """The figure that counts: the first, until somebody says otherwise."""
        return self.figures[0] if self.figures else None

    @property
    def in_question(self) -> bool:
        """Whether two figures differ, so that somebody must say which stands."""
        return len({each.figure for each in self.figures}) > 1

    @property
    def checked(self) -> bool:
        """Whether the peg was weighed twice with the same figure."""
        return len(self.figures) > 1 and not self.in_question


@dataclass(frozen=True, slots=True)
class Gap:
    """An angler whose figure is not known yet, and what is missing, in words."""

    entry: Entry
    why: str

    def __str__(self) -> str:
        if not self.entry.match_peg:
            return f"{self.entry.angler} {self.why}."
        return f"Peg {self.entry.match_peg.peg}, {self.entry.angler}: {self.why}."


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything a result is worked out from, read once."""

    match: Match
    entries: tuple[Entry, ...]
    decisions: tuple[Decision, ...]


def facts_of(match: Match) -> Facts:
    """Read *match*: four questions, however many anglers."""
    return Facts(
        match,
        tuple(Entry.objects.of(match).with_figures()),
        tuple(Decision.objects.in_force(match)),
    )


def marker(match: Match) -> tuple[object, ...]:
    """What is different as soon as anything comes in that a result is worked out from."""
    return (
        WeighIn.objects.of(match).count(),
        SetAside.objects.of(match).count(),
        Decision.objects.on(match).count(),
        Entry.objects.who_is_where(match),
        match.announced_book,
    )


def standing(entry: Entry) -> Standing:
    """The figures of *entry* that stand; no question where its weigh-ins were fetched with it."""
    return Standing(tuple(each for each in entry.weigh_ins.all() if each.stands))


def rows_of(facts: Facts) -> list[Row]:
    """
    One row an angler with a peg, decisions included.

    Who is not weighed yet stands as not weighed, and a peg in question with its first figure;
    the note says so, and `gaps_of` lists them, so that no result hides it.
    """
    return [_row(facts, entry) for entry in facts.entries if entry.match_peg_id]


def gaps_of(facts: Facts) -> list[Gap]:
    """Who is not weighed yet or in question, in peg order; who has no peg comes last."""
    return [gap for entry in facts.entries if (gap := _gap(facts, entry))]


def team_penalties(facts: Facts) -> dict[str, Points]:
    """Points decided against whole teams, by team key; they count in the season's table."""
    found: dict[str, Points] = {}
    for decision in facts.decisions:
        if decision.kind == DecisionKind.POINTS and decision.entry_id is None:
            key = str(decision.team_id)
            found[key] = found.get(key, 0) + (decision.points or 0)
    return found


def say_decision(decision: Decision, unit: Unit) -> str:
    """A decision as it is printed with the result."""
    about = str(decision.entry.angler if decision.entry else decision.team)
    what = {
        DecisionKind.DISQUALIFIED: "disqualified",
        DecisionKind.POINTS: f"{_points(decision.points)} penalty",
        DecisionKind.WEIGHT: f"{spoken(decision.weight or 0, unit)} taken off",
        DecisionKind.LATE_WEIGHT: f"late weight of {spoken(decision.weight or 0, unit)} allowed",
        DecisionKind.VOID_PEG: f"peg void, {_points(decision.points)} given",
    }[DecisionKind(decision.kind)]
    return f"{about}: {what}. {decision.why}"


def announce_decision(decision: Decision, unit: Unit) -> str:
    """
    The same with who decided and when, as it stands in a result.

    Results are read by everybody: they name the office, the journal names the person. A sheet that
    was loaded says neither who nor when, and nothing is made up for it.
    """
    if decision.by_id is None:
        return say_decision(decision, unit)
    at = timezone.localtime(decision.at)
    when = f"{date_format(at, 'j F Y')} at {date_format(at, 'H:i')}"
    return f"{say_decision(decision, unit)} Decided by the {WHO_DECIDES} on {when}."


def _points(points: Points | None) -> str:
    return "1 point" if points == 1 else f"{points or 0} points"


def _row(facts: Facts, entry: Entry) -> Row:
    if entry.match_peg is None:
        raise RefusedError(f"{entry.angler} has no peg.")
    unit = Unit(facts.match.unit)
    figure = standing(entry).weigh_in
    status = Status(figure.status) if figure else Status.NOT_WEIGHED
    nets = figure.nets if figure else ()
    penalty: Points = 0
    off = 0
    decided: Points | None = None
    mine = [each for each in facts.decisions if each.entry_id == entry.pk]
    for decision in mine:
        if decision.kind == DecisionKind.DISQUALIFIED:
            status = Status.DISQUALIFIED
        elif decision.kind == DecisionKind.POINTS:
            penalty += decision.points or 0
        elif decision.kind == DecisionKind.WEIGHT:
            off += decision.weight or 0
        elif decision.kind == DecisionKind.LATE_WEIGHT:
            status, nets = Status.WEIGHED, (decision.weight or 0,)
        else:
            decided = decision.points
    gap = _gap(facts, entry)
    notes = [figure.note if figure else "", f"{gap.why.capitalize()}." if gap else ""]
    return Row(
        section=entry.match_peg.section.letter,
        peg=entry.match_peg.peg.number,
        angler=entry.angler.shown_name,
        team=entry.team.name if entry.team else "",
        status=status,
        nets=tuple(nets),
        penalty=penalty,
        note=" ".join(note for note in notes if note),
        angler_id=str(entry.angler_id),
        team_id=str(entry.team_id) if entry.team_id else "",
        weight_penalty=off,
        decided=decided,
        decision=" ".join(announce_decision(each, unit) for each in mine),
    )


def _gap(facts: Facts, entry: Entry) -> Gap | None:
    if not entry.match_peg_id:
        return Gap(entry, "has no peg")
    settled = {DecisionKind.DISQUALIFIED, DecisionKind.LATE_WEIGHT, DecisionKind.VOID_PEG}
    if any(each.entry_id == entry.pk and each.kind in settled for each in facts.decisions):
        return None
    stands = standing(entry)
    if not stands.figures:
        return Gap(entry, "not weighed yet")
    if stands.in_question:
        said = " or ".join(_differing(stands, Unit(facts.match.unit)))
        return Gap(entry, f"in question, {said}")
    return None


def _differing(stands: Standing, unit: Unit) -> Iterator[str]:
    seen = set()
    for weigh_in in stands.figures:
        if weigh_in.figure not in seen:
            seen.add(weigh_in.figure)
            yield say_figure(weigh_in, unit)
