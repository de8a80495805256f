"""The team table of a result page, and how teams on equal points were told apart."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.text import slugify

from league.columns import team_columns
from league.rules import splits, words
from league.rules.lines import AnglerLine, MatchResult, Points, Split, TeamLine
from league.rules.weights import Unit, spoken
from league.web import cells
from league.web.ledgers import Why, ledger
from league.web.pages.result_sections import named, who

MANY_SECTIONS = 4  # more than this do not stand beside a name on a phone
LEDGER, FOLDING = "includes/_table.html", "table/_ledger.html"
OUTCOMES = {"level": "level", "split": "split", "not needed": "unused"}


@dataclass(frozen=True, slots=True)
class Told:
    """How two teams on equal points were told apart, for the box beside the teams."""

    both: str
    ahead: str
    # The two figures that did it, where they are weights.
    big: tuple[list[tuple[str, str]], list[tuple[str, str]]] | None
    rungs: tuple[tuple[str, str], ...]  # each rung's class and sentence


def team_table(worked: MatchResult, league: Mapping[str, Points | None]) -> Any:
    """The teams, every figure with its reason; *league* is what the round gives in the table."""
    unit = worked.unit
    letters = [section.section for section in worked.sections]
    members = _members(worked)

    many = len(letters) > MANY_SECTIONS

    def in_section(letter: str) -> Callable[[TeamLine, str], str]:
        def cell(line: TeamLine, text: str) -> str:
            linked = cells.with_reason(cells.boxed(text), f"{_team_id(line)}-{slugify(letter)}")
            return cells.under_letter(letter, linked) if many else linked

        return cell

    return ledger(
        team_columns(letters, unit, league),
        worked.teams,
        row_header="team",
        cells={
            "place": lambda line, text: cells.with_tip(text) if line.place == 1 else text,
            "team": lambda line, text: named(
                team_page(line.team_id), text, spoken(line.weight, unit), "phone"
            ),
            "points": lambda line, text: cells.with_reason(
                cells.boxed(text), f"{_team_id(line)}-points"
            ),
            "weight": lambda line, text: cells.with_reason(
                cells.weight(line.weight, unit), f"{_team_id(line)}-weight"
            ),
        }
        | {f"section-{letter}": in_section(letter) for letter in letters},
        heads={"place": cells.hidden("Place"), "weight": cells.weight_head(unit)}
        | {f"section-{letter}": cells.plate(letter) for letter in letters},
        classes={
            "place": "pos",
            "team": "name",
            "points": "num total",
            "weight": "num wide",
            "league": "num rp wide",
        }
        | {f"section-{letter}": "num sc" for letter in letters},
        whys=lambda line: _team_whys(line, members.get(line.team_id or line.team, []), unit),
        row_id=_team_row,
        template=FOLDING if many else LEDGER,
        caption="Teams" if many else "",
        **{"class": f"ledger teams{' many' if many else ''}", "id": "teams"},
    )


def team_page(team_id: str) -> str:
    return reverse("team", args=[int(team_id)]) if team_id.isdecimal() else ""


def _members(worked: MatchResult) -> dict[str, list[AnglerLine]]:
    found: dict[str, list[AnglerLine]] = {}
    for section in worked.sections:
        for line in section.lines:
            if line.row.team_key:
                found.setdefault(line.row.team_key, []).append(line)
    for team in worked.teams:
        found.setdefault(team.team_id or team.team, []).extend(team.short)
    return found


def _team_id(line: TeamLine) -> str:
    return f"why-team-{slugify(line.team_id or line.team)}"


def _team_row(line: TeamLine) -> str:
    return _team_id(line).replace("why", "row", 1)


def _team_whys(line: TeamLine, members: Sequence[AnglerLine], unit: Unit) -> list[Why]:
    address, back = _team_id(line), _team_row(line)
    whys = []
    for letter in line.section_points:
        here = [member for member in members if member.row.section == letter]
        whys.append(
            Why(
                f"{address}-{slugify(letter)}",
                "; ".join(words.arithmetic(member.reason) for member in here),
                " ".join(_member_said(member, unit) for member in here),
                back,
            )
        )
    split = f" {words.say_split(line.split, unit)}" if line.split else ""
    team = "; ".join(f"{member.row.section}, {member.row.angler or 'nobody'}" for member in members)
    whys.append(Why(f"{address}-points", words.arithmetic(line.reason), f"{team}.{split}", back))
    weights = [member.weight for member in members]
    whys.append(
        Why(
            f"{address}-weight",
            f"{' + '.join(spoken(weight, unit) for weight in weights)} "
            f"= {spoken(line.weight, unit)}",
            f"{team}.",
            back,
        )
    )
    return whys


def _member_said(member: AnglerLine, unit: Unit) -> str:
    figure = cells.figure_said(member.status, member.weight, unit)
    named_as = f"{who(member)}: {figure}. " if member.row.angler else ""
    return f"{named_as}{words.say(member.reason, unit)}"


def ties(worked: MatchResult) -> list[Split]:
    """Each pair that was level on points, once, best first."""
    splits = [line.split for line in worked.teams if line.split and line.split.we_are_ahead]
    behind = [line.split for line in worked.teams if line.split and not line.split.we_are_ahead]
    told = {(split.ahead, split.behind) for split in splits}
    return splits + [split for split in behind if (split.ahead, split.behind) not in told]


def told(split: Split, unit: Unit) -> Told:
    points = words.points_said(split.rungs[0].ours)
    both = f"{split.ahead} and {split.behind} both have {points}."
    rungs = tuple((OUTCOMES[check.outcome], words.say_rung(check, unit)) for check in split.rungs)
    decided = split.decided
    if decided is None:
        return Told(both, "Nothing splits them: they share the place.", None, rungs)
    ours, theirs = decided.ours, decided.theirs
    if not split.we_are_ahead:
        ours, theirs = theirs, ours
    ahead = f"{split.ahead} are ahead on {splits.RUNGS[decided.rung]}:"
    big = (cells.parts(ours, unit), cells.parts(theirs, unit)) if decided.weighed else None
    return Told(both, ahead, big, rungs)
