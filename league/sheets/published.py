"""From the document that a published version is kept as to its results sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from league.files import result as result_file
from league.files.record import record_in
from league.rules import announced, words
from league.rules.rulebook import Rulebook
from league.sheets.page import A4, Page, Paper, SheetHead, write_sheet
from league.sheets.result import TeamColumn, result_pages
from league.strip import BankPeg

# Parts of a rule book as it is read out.
TEAM, SEASON = "In a team", "Over the season"
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip


def published_sheet(document: Mapping[str, Any], **values: Any) -> bytes:
    """Print the version kept as *document*; the rest is that of `published_pages`."""
    head, pages = published_pages(document, **values)
    return write_sheet(f"{head.title}: results", head.club, head.series, pages)


def published_pages(
    document: Mapping[str, Any],
    *,
    state: str,
    address: str = "",
    posted: str = "",
    printed: str = "",
    objections: str = "",
    draw: str = "",
    notes: Sequence[str] = (),
    season: Sequence[TeamColumn] = (),
    paper: Paper = A4,
) -> tuple[SheetHead, list[Page]]:
    """
    The version kept as *document* with its *state* as it is now: what its sheet says, its pages.

    Times and the sentence about objections come in words; nothing is looked up.
    """
    result = result_file.from_json(document)
    head = SheetHead(
        club=document["match"].get("club") or "",
        title=title_of(document["match"]),
        series=series_of(document["match"]),
        date=day_in_words(document["match"].get("date")),
        headline=words.headline(result, record=record_in(document)),
        state=state,
        version=document.get("version"),
        posted=posted,
        printed=printed,
        objections=objections,
        address=address,
        draw=draw,
        decisions=tuple(decision["says"] for decision in document.get("decisions", ())),
        rules=match_rules(result_file.book_of(document), teams=bool(result.teams)),
        notes=(*document.get("gaps", ()), *notes),
        paper=paper,
    )
    return head, result_pages(head, result, bank=bank_of(document), season=season)


def bank_of(document: Mapping[str, Any]) -> tuple[BankPeg, ...]:
    """The pegs in bank order, as the version keeps them."""
    return tuple(
        BankPeg(
            number=peg["number"],
            order=peg["order"],
            gap_before=peg["gap_before"],
            left_out=tuple(peg["left_out"]),
            section=peg["section"],
            waiting=peg.get("waiting", False),
        )
        for peg in document.get("bank", ())
    )


def match_rules(book: Rulebook, *, teams: bool = True) -> tuple[str, ...]:
    """The rules of a match read out; those of the season stand on the table's sheet."""
    left_out = {SEASON} if teams else {SEASON, TEAM}
    return tuple(
        sentence
        for part in announced.read_out(book)
        if part.heading not in left_out
        for sentence in part.sentences
    )


def season_rules(book: Rulebook) -> tuple[str, ...]:
    """The rules by which rounds make a table, read out."""
    return tuple(
        sentence
        for part in announced.read_out(book)
        if part.heading == SEASON
        for sentence in part.sentences
    )


def title_of(match: Mapping[str, Any]) -> str:
    """Round 6, Heron Lake."""
    name, water = match.get("name") or "", match.get("water") or ""
    if water in name:
        water = ""
    return ", ".join(part for part in (name, water) if part) or "Result"


def series_of(match: Mapping[str, Any]) -> str:
    """Winter Team League 2026–27."""
    return " ".join(part for part in (match.get("league"), match.get("season")) if part)


def day_in_words(iso: str | None) -> str:
    """
    A date as a notice gives it.

    >>> day_in_words("2027-01-24")
    'Sunday 24 January 2027'
    """
    if not iso:
        return ""
    day = date.fromisoformat(iso)
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"
