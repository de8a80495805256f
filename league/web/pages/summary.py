"""A result as a few lines of plain text, to paste into a group chat or read in a feed."""

from __future__ import annotations

from collections.abc import Iterator

from league.columns import placing
from league.files.record import record_in
from league.models import Result
from league.operations import score
from league.rules import words
from league.rules.figures import counted
from league.rules.lines import MatchResult, SectionResult
from league.rules.weights import spoken
from league.rules.words import points_said
from league.web.pages.result import best_of_the_day, where_and_when
from league.web.sentences import moment

# A chat shows a message whole up to about this; a national match says who came first, and where
# the rest stands.
MOST_TEAMS = 12
MOST_ANGLERS = 6


def summary(result: Result, address: str = "", *, in_force: int = 0) -> str:
    """
    The answer, the teams, the section winners, the best weight, and which version says so.

    *address* is where the whole result stands; a feed has its own link and leaves it out.
    *in_force* is the newest version, where this one may be an older.
    """
    worked = score.read(result)
    about = result.document["match"]
    what = f"round {about['round']}" if about.get("round") else ""
    parts = [
        [where_and_when(about)],
        [f"{words.headline(worked, what, record_in(result.document))}."],
        list(_teams(worked) if worked.teams else _anglers(worked)),
        list(_sections(worked)),
        [best_of_the_day(worked)] if worked.teams else [],
        [_state(result, in_force), address],
    ]
    return "\n\n".join("\n".join(line for line in part if line) for part in parts if part) + "\n"


def _teams(worked: MatchResult) -> Iterator[str]:
    for line in worked.teams[:MOST_TEAMS]:
        weight = spoken(line.weight, worked.unit)
        yield f"{placing(line.place, line.equal)} {line.team}, {points_said(line.points)}, {weight}"
    if len(worked.teams) > MOST_TEAMS:
        yield f"and {counted(len(worked.teams) - MOST_TEAMS, 'more team')}"


def _anglers(worked: MatchResult) -> Iterator[str]:
    for line in worked.anglers[:MOST_ANGLERS]:
        if line.place is not None and line.weight:
            peg = f", peg {line.peg}" if line.peg else ""
            weight = spoken(line.weight, worked.unit)
            yield f"{placing(line.place, line.equal)} {line.angler}, {weight}{peg}"


def _sections(worked: MatchResult) -> Iterator[str]:
    if len(worked.sections) < 2:
        return
    yield "Section winners"
    for section in worked.sections:
        yield f"{section.section}: {_winners(section, worked)}"


def _winners(section: SectionResult, worked: MatchResult) -> str:
    first = [line for line in section.lines if line.place == 1 and line.weight]
    if not first:
        return "nobody had a fish"
    named = [
        f"{line.row.angler} (peg {line.row.peg})" if line.row.peg else line.row.angler
        for line in first
    ]
    each = " each" if len(first) > 1 else ""
    return f"{words.and_list(named)}, {spoken(first[0].weight, worked.unit)}{each}"


def _state(result: Result, in_force: int) -> str:
    version = f"Version {result.version}"
    if in_force > result.version:
        return f"{version}, corrected since: version {in_force} is in force."
    if result.final_at:
        return f"{version}, final."
    until = f" until {moment(result.objections_until)}" if result.objections_until else ""
    return f"{version}, provisional{until}."
