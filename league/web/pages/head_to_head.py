"""What the page is made of that holds two teams of a season against each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.urls import reverse
from django.utils.html import format_html, format_html_join

from league.columns import Column, plain_points, plain_weight, points_or_dash
from league.columns import placing as placing_written
from league.models import Match, Result, Season, Team
from league.operations import score
from league.rules.figures import counted, points_said
from league.rules.head_to_head import HeadToHead, Meeting, Tally, head_to_head, said
from league.rules.weights import Unit, spoken, written
from league.web import cells
from league.web.ledgers import ledger
from league.web.pages.standings import table_stamp
from league.web.published import remembered
from league.web.sentences import short_day

OUTCOMES = {1: "ahead", 0: "level", -1: "behind"}


def held(season: Season, ours: Team, theirs: Team) -> HeadToHead:
    """The two against each other, worked out once for a version of the table."""

    def make() -> HeadToHead:
        rounds = [
            (result.match.round, score.read(result))
            for result in Result.objects.rounds_of(season)
            if result.match.round is not None
        ]
        return head_to_head(rounds, str(ours.pk), str(theirs.pk))

    found: HeadToHead = remembered(
        f"head to head {ours.pk} {theirs.pk} {table_stamp(season)}", make
    )
    return found


def columns(ours: Team, theirs: Team, unit: Unit) -> tuple[Column[Meeting], ...]:
    """Their meetings, for page and file alike."""
    sides = ((ours.name, "ours"), (theirs.name, "theirs"))
    return (
        Column("round", "Round", lambda each: str(each.round), is_number=True),
        *(column for name, side in sides for column in _side(name, side, unit)),
        Column("sections", "Sections", lambda each: _in_sections(each)),
        Column("outcome", ours.name, lambda each: OUTCOMES[each.outcome]),
    )


def _side(name: str, side: str, unit: Unit) -> tuple[Column[Meeting], ...]:
    return (
        Column(
            f"{side}-place",
            f"{name}, place",
            lambda each: placing_written(getattr(each, side).place, getattr(each, side).equal),
            is_number=True,
        ),
        Column(
            f"{side}-points",
            f"{name}, points",
            lambda each: points_or_dash(getattr(each, side).points),
            is_number=True,
            plain=lambda each: plain_points(getattr(each, side).points),
        ),
        Column(
            f"{side}-weight",
            f"{name}, weight",
            lambda each: written(getattr(each, side).weight, unit),
            is_number=True,
            plain=lambda each: plain_weight(getattr(each, side).weight, unit),
        ),
    )


def _in_sections(each: Meeting) -> str:
    return ", ".join(f"{letter} {OUTCOMES[outcome]}" for letter, outcome in each.sections)


def _by_outcome(each: Meeting) -> str:
    """The sections as a phone has room for them: ahead in A, C; behind in B."""
    told = [
        (said, ", ".join(letter for letter, outcome in each.sections if outcome == key))
        for key, said in OUTCOMES.items()
    ]
    return "".join(f"; {said} in {letters}" for said, letters in told if letters)


def matter(season: Season, ours: Team, theirs: Team, unit: Unit) -> dict[str, Any]:
    """The page that holds *ours* against *theirs*."""
    found = held(season, ours, theirs)
    matches = {match.round: match for match in Match.objects.rounds_of(season)}
    return {
        "headline": said(found, ours.name, theirs.name),
        "sentences": _sentences(found, ours, theirs, unit),
        "table": _table(found.meetings, matches, ours, theirs, unit) if found.meetings else None,
    }


def _sentences(found: HeadToHead, ours: Team, theirs: Team, unit: Unit) -> list[str]:
    """Each with what it is counted from."""
    if not found.meetings:
        return []
    mine, other = found.points
    heavier, lighter = found.weight
    rounds = counted(found.rounds.total, "round")
    sentences = [
        f"Over the {rounds} both fished: {ours.name} {points_said(mine)} and "
        f"{spoken(heavier, unit)}, {theirs.name} {points_said(other)} and "
        f"{spoken(lighter, unit)}.",
    ]
    if found.sections.total:
        sentences.append(
            f"In the {counted(found.sections.total, 'section')} they shared "
            f"{ours.name} {'were' if found.sections.total > 1 else 'was'} "
            f"{_tallied(found.sections)}."
        )
    return sentences


def _tallied(tally: Tally) -> str:
    said = [f"ahead in {tally.ahead}", f"behind in {tally.behind}"]
    if tally.level:
        said.append(f"level in {tally.level}")
    return ", ".join(said)


def _table(
    meetings: Sequence[Meeting],
    matches: dict[int | None, Match],
    ours: Team,
    theirs: Team,
    unit: Unit,
) -> Any:
    def where(each: Meeting, text: str) -> str:
        match = matches[each.round]
        address = reverse("result", args=[match.pk])
        return format_html(
            '<a href="{}">Round {}</a><small>{}, {}</small><small class="ph">{}{}</small>',
            address,
            text,
            match.water,
            short_day(match.date),
            f"{ours.name} {OUTCOMES[each.outcome]}",
            _by_outcome(each),
        )

    def side(name: str) -> Any:
        def cell(each: Meeting, text: str) -> str:
            line = getattr(each, name)
            won = each.outcome == (1 if name == "ours" else -1)
            said = format_html("{} <small>{}</small>", text, spoken(line.weight, unit))
            return format_html("<b>{}</b>", said) if won else said

        return cell

    def sections(each: Meeting, text: str) -> str:
        return format_html_join(
            " ",
            '<span class="insec">{}{}</span>',
            ((cells.plate(letter), OUTCOMES[outcome]) for letter, outcome in each.sections),
        )

    shown = [
        column
        for column in columns(ours, theirs, unit)
        if column.key in {"round", "ours-points", "theirs-points", "sections", "outcome"}
    ]
    return ledger(
        shown,
        meetings,
        row_header="round",
        cells={
            "round": where,
            "ours-points": side("ours"),
            "theirs-points": side("theirs"),
            "sections": sections,
        },
        heads={"ours-points": ours.name, "theirs-points": theirs.name, "outcome": ours.name},
        classes={
            "round": "name",
            "ours-points": "num duel",
            "theirs-points": "num duel",
            "sections": "insecs lap",
            "outcome": "n lap",
        },
        caption="",
    )
