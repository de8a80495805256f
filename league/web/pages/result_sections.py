"""The sections of a result page, every figure with its reason."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from django.utils.html import format_html
from django.utils.text import slugify

from league.columns import STATUS_WORDS, section_columns
from league.rules import words
from league.rules.figures import capital
from league.rules.lines import AnglerLine, MatchResult, SectionResult
from league.rules.weights import Unit, spoken
from league.web import cells
from league.web.ledgers import Why, ledger


def who(line: AnglerLine) -> str:
    return f"Peg {line.row.peg}, {line.row.angler}" if line.row.peg else line.row.angler


def named(address_of: Any, name: str, beneath: str, beneath_class: str = "") -> str:
    linked = format_html('<a href="{}">{}</a>', address_of, name) if address_of else name
    if not beneath:
        return format_html("{}", linked)
    return format_html('{}<small class="{}">{}</small>', linked, beneath_class, beneath)


def angler_page(angler_id: str) -> str:
    return reverse("angler", args=[int(angler_id)]) if angler_id.isdecimal() else ""


def section_table(section: SectionResult, worked: MatchResult) -> dict[str, Any]:
    unit = worked.unit
    best = {line.angler_id or line.angler for line in worked.anglers if line.place == 1}

    def place(line: AnglerLine, text: str) -> str:
        won = line.place == 1 and line.weight > 0 and line.row.angler_key in best
        return cells.with_tip(text) if won else text

    table = ledger(
        [column for column in section_columns(unit) if column.key != "team"],
        section.lines,
        row_header="angler",
        cells={
            "place": place,
            "angler": lambda line, text: named(
                angler_page(line.row.angler_id), text, line.row.team
            ),
            "weight": lambda line, text: cells.with_reason(
                cells.figure(line.status, line.weight, unit), f"{why_address(line)}-weight"
            ),
            "points": lambda line, text: cells.with_reason(
                cells.boxed(text), f"{why_address(line)}-points"
            ),
        },
        heads={
            "place": cells.hidden("Place"),
            "weight": cells.weight_head(unit),
        },
        classes={"place": "pos", "peg": "pegc", "angler": "name", "points": "num total"},
        whys=lambda line: _angler_whys(line, unit),
        row_id=lambda line: why_address(line).replace("why", "row", 1),
    )
    return {"letter": section.section, "table": table, "size": section.size}


def why_address(line: AnglerLine) -> str:
    """Where the reasons behind an angler's figures are on the page."""
    if line.row.peg:
        return f"why-peg-{slugify(line.row.peg)}"
    return f"why-angler-{slugify(line.row.angler_key)}"


def _angler_whys(line: AnglerLine, unit: Unit) -> list[Why]:
    back = why_address(line).replace("why", "row", 1)
    nets = words.say_nets(line.row.nets, line.counted, unit)
    said = [f"{who(line)}."]
    if line.row.weight_penalty:
        said.append(f"{spoken(line.row.weight_penalty, unit)} taken off.")
    if line.row.decision:
        said.append(line.row.decision)
    if line.row.note:
        said.append(line.row.note)
    headline = nets or f"{capital(STATUS_WORDS[line.status])}."
    return [
        Why(f"{why_address(line)}-weight", headline, " ".join(said), back),
        Why(
            f"{why_address(line)}-points",
            words.arithmetic(line.reason),
            words.say(line.reason, unit),
            back,
        ),
    ]
