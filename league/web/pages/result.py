"""What a result page is made of."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.urls import reverse

from league.columns import overall_columns
from league.files.record import record_in
from league.models import DrawRecord, Result
from league.operations import score
from league.rules import words
from league.rules.headlines import say_record
from league.rules.lines import MatchResult
from league.rules.weights import spoken
from league.strip import BankPeg, strip_of
from league.web import cells
from league.web.ledgers import ledger
from league.web.pages.objections import objections_to
from league.web.pages.result_sections import angler_page, named, section_table
from league.web.pages.result_teams import MANY_SECTIONS, team_table, ties, told
from league.web.pages.standings import rules_url
from league.web.pages.versions import told as told_versions
from league.web.sentences import long_day, moment, what_was_caught


def matter(result: Result, versions: Sequence[Result]) -> dict[str, Any]:
    """Everything below the head of the page of *result*, of which *versions* are all there are."""
    worked = score.read(result)
    about = result.document["match"]
    return {
        "result": result,
        "about": about,
        "over": where_and_when(about),
        "caught": what_was_caught(worked),
        "record": _record(result, worked),
        "newest": versions[0],
        "strip": bank(result, worked),
        "teams": team_table(worked, score.league_points(result)) if worked.teams else None,
        "many_sections": len(worked.sections) > MANY_SECTIONS,
        "sections": [section_table(section, worked) for section in worked.sections],
        "overall": None if worked.teams else _overall(worked),
        "ties": [told(split, worked.unit) for split in ties(worked)],
        "versions": told_versions(versions),
        "objections_until": result.objections_until and moment(result.objections_until),
        "final_at": result.final_at and moment(result.final_at),
        "rules_url": rules_url(result.match.season),
        "draw_url": reverse("draw-check", args=[result.match_id])
        if DrawRecord.objects.of(result.match)
        else "",
        "gaps": score.gaps_in(result),
        "decisions": [each["says"] for each in result.document.get("decisions", ())],
        "objections": objections_to(result.match),
    }


def front(result: Result) -> dict[str, Any]:
    """The front page's part about the last result."""
    worked = score.read(result)
    about = result.document["match"]
    what = f"round {about['round']}" if about.get("round") else ""
    winners = [line.split for line in worked.teams if line.place == 1 and line.split]
    return {
        "result": result,
        "over": where_and_when(about),
        "headline": words.headline(worked, what, record_in(result.document)),
        "how": words.say_split(winners[0], worked.unit) if winners else "",
        "best": best_of_the_day(worked),
        "strip": bank(result, worked),
        "objections_until": result.objections_until and moment(result.objections_until),
    }


def title(result: Result) -> str:
    """What a browser's tab and a bookmark say."""
    match = result.match
    return f"{match.title}, {match.water}: result"


def where_and_when(about: dict[str, Any]) -> str:
    """Winter Team League, round 6 of 7. Heron Lake, Sunday 24 January 2027."""
    named = about.get("league") or about.get("name") or ""
    if about.get("league") and about.get("round"):
        of = f" of {about['rounds']}" if (about.get("rounds") or 0) > 1 else ""
        named = f"{named}, round {about['round']}{of}"
    place = ", ".join(
        part for part in (about.get("water"), about.get("date") and _day(about["date"])) if part
    )
    return ". ".join(part for part in (named, place) if part)


def _day(written: str) -> str:
    return long_day(date.fromisoformat(written))


def bank(result: Result, worked: MatchResult) -> Any:
    """The bank strip; none where no bank was kept with the result, as in a loaded history."""
    layout = [
        BankPeg(**{**peg, "left_out": tuple(peg["left_out"])})
        for peg in result.document.get("bank", ())
    ]
    if not layout:
        return None
    about = result.document["match"]
    named = ", ".join(part for part in (about.get("name"), about.get("water")) if part)
    return strip_of(worked, layout, key=f"bank-{result.match_id}", title=f"{named}: the bank")


def best_of_the_day(worked: MatchResult) -> str:
    """Winston Arberry had the best weight of the day, 31 lb 6 oz off peg 18."""
    best = [line for line in worked.anglers if line.place == 1 and line.weight]
    if not best:
        return "Nobody had a fish."
    weight = spoken(best[0].weight, worked.unit)
    if len(best) > 1:
        names = words.and_list([line.angler for line in best])
        return f"{names} shared the best weight of the day, {weight} each."
    peg = f" off peg {best[0].peg}" if best[0].peg else ""
    return f"{best[0].angler} had the best weight of the day, {weight}{peg}."


def _record(result: Result, worked: MatchResult) -> str:
    found = record_in(result.document)
    water = result.document["match"].get("water") or "this water"
    return say_record(found, water, worked.unit) if found else ""


def _overall(worked: MatchResult) -> Any:
    unit = worked.unit
    with_section = len(worked.sections) > 1

    return ledger(
        [
            column
            for column in overall_columns(unit)
            if column.key != "team" and (with_section or column.key != "section")
        ],
        worked.anglers,
        row_header="angler",
        cells={
            "place": lambda line, text: cells.with_tip(text) if line.place == 1 else text,
            "angler": lambda line, text: named(angler_page(line.angler_id), text, line.team),
            "section": lambda line, text: cells.plate(text),
            "weight": lambda line, text: cells.figure(line.status, line.weight, unit),
        },
        heads={
            "place": cells.hidden("Place"),
            "section": cells.hidden("Section"),
            "weight": cells.weight_head(unit),
        },
        classes={"place": "pos", "peg": "pegc", "angler": "name", "section": "pegc"},
        id="everybody",
    )
