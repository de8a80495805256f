"""The cells of one row of a sheet: a weight or a status, a name, a number, a date."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from league.files.csv_text import LONGEST_NOTE, text_trouble
from league.files.sheet_draft import Draft, Reading
from league.rules.errors import Fault, WeightError
from league.rules.lines import Points, Row, Status
from league.rules.policies import exact
from league.rules.weights import Unit, Weight

ABOUT = ("date", "match", "venue", "water")
MOST_NETS = 20
STATUSES = {status.value: status for status in Status if status is not Status.WEIGHED}
# A weight that was taken can stand beside these two: it is kept, and counts as the rules say.
BESIDE_A_WEIGHT = (Status.WITHDREW, Status.DISQUALIFIED)
_WORDS = list(STATUSES)
NO_FIGURE = f"Without a weight, write {', '.join(_WORDS[:-1])} or {_WORDS[-1]}."
_POINTS = re.compile(r"(\d{1,5})(?:[.,](\d{1,4}))?|(\d{1,5})/([1-9]\d{0,4})")


def round_number(cells: Mapping[str, str], number: int, faults: list[Fault]) -> int | None:
    """The round of a season sheet's row; None on a match sheet."""
    if "round" not in cells:
        return None
    cell = cells["round"]
    if re.fullmatch(r"[1-9][0-9]{0,2}", cell):
        return int(cell)
    faults.append(
        Fault(number, "round", f"Write the number of the round, 1 or more, not {cell!r}.")
    )
    return None


def about_match(cells: Mapping[str, str], number: int, draft: Draft, faults: list[Fault]) -> None:
    """Note what the row says of its match; every row of a match must say the same."""
    for name in ABOUT:
        cell = cells.get(name, "")
        if not cell:
            if name == "date" and "round" in cells:
                faults.append(Fault(number, name, "Write the date of the round, 2027-01-24 say."))
            continue
        if trouble := _date_trouble(cell) if name == "date" else text_trouble(cell):
            faults.append(Fault(number, name, trouble))
            continue
        said, where = draft.about.setdefault(name, (cell, number))
        if said != cell:
            faults.append(
                Fault(
                    number,
                    name,
                    f"{cell!r} here and {said!r} in row {where}, for one match. Write the same in "
                    "both, or give the matches different rounds.",
                )
            )


def _date_trouble(cell: str) -> str:
    try:
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", cell):
            date.fromisoformat(cell)
            return ""
    except ValueError:
        pass
    return f"{cell!r} is no date. Write year, month and day as 2027-01-24."


def row(cells: Mapping[str, str], number: int, reading: Reading) -> Row:
    """One angler's row as far as it can be read, the faults noted."""
    faults = reading.faults

    def text(name: str, longest: int = 200) -> str:
        cell = cells.get(name, "")
        if trouble := text_trouble(cell, longest):
            faults.append(Fault(number, name, trouble))
        return cell

    section, peg, angler, team = (text(name) for name in ("section", "peg", "angler", "team"))
    note, decision = text("note", LONGEST_NOTE), text("decision", LONGEST_NOTE)
    status, nets = _weight(cells["weight"], number, reading)
    if not section:
        words = "Write the section, A say. Where a match has none, write the same in every row."
        faults.append(Fault(number, "section", words))
    if not peg and status not in (Status.ABSENT, Status.VACANT):
        faults.append(Fault(number, "peg", "Write the number of the peg."))
    if not angler and status is not Status.VACANT:
        words = 'Write the angler\'s name, or "vacant" as the weight where the team named nobody.'
        faults.append(Fault(number, "angler", words))
    penalty = _points("penalty", cells, number, faults)
    decided = _points("decided", cells, number, faults)
    weight_penalty = 0
    if cell := cells.get("weight_penalty", ""):
        try:
            weight_penalty = Weight.parse(cell, reading.unit).amount
        except WeightError as error:
            faults.append(Fault(number, "weight_penalty", str(error)))
    return Row(
        section=section,
        peg=peg,
        angler=angler,
        team=team,
        status=status,
        nets=nets,
        penalty=penalty or 0,
        note=note,
        weight_penalty=weight_penalty,
        decided=decided,
        decision=decision,
    )


def _weight(cell: str, number: int, reading: Reading) -> tuple[Status, tuple[int, ...]]:
    """The nets and the status of a weight cell, the faults noted."""
    text = cell.lower()
    if text in STATUSES:
        return STATUSES[text], ()
    if not text:
        words = "Nothing stands here. Write the weight, or blank, not weighed, absent and so on."
        reading.faults.append(Fault(number, "weight", words))
        return Status.WEIGHED, ()
    status = Status.WEIGHED
    for beside in BESIDE_A_WEIGHT:
        if text.endswith(f" {beside}"):
            status, text = beside, text.removesuffix(f" {beside}")
    parts = text.split("+")
    if len(parts) > MOST_NETS:
        words = f"{len(parts)} nets in one cell. Nobody has more than {MOST_NETS}."
        reading.faults.append(Fault(number, "weight", words))
        return status, ()
    nets = []
    for part in parts:
        try:
            nets.append(Weight.parse(part, reading.unit).amount)
        except WeightError as error:
            words = str(error) if not part.strip()[:1].isalpha() else f"{error} {NO_FIGURE}"
            reading.faults.append(Fault(number, "weight", words))
            reading.unreadable.append(part)
    return status, tuple(nets)


def _points(name: str, cells: Mapping[str, str], number: int, faults: list[Fault]) -> Points | None:
    """A number of points from 0 upwards, exact; None where the cell is empty."""
    cell = cells.get(name, "")
    if not cell:
        return None
    found = _POINTS.fullmatch(cell)
    if not found or not cell.isascii():
        words = f"{cell!r} is no number of points. Write 2, 2.5 or 7/2, without a sign."
        faults.append(Fault(number, name, words))
        return None
    if found[3]:
        return exact(Fraction(int(found[3]), int(found[4])))
    return exact(Fraction(f"{found[1]}.{found[2] or 0}"))


def in_other_unit(text: str, unit: Unit) -> bool:
    """Whether *text* is a weight in the unit the match is not weighed in."""
    other = Unit.KG if unit is Unit.LB_OZ else Unit.LB_OZ
    try:
        Weight.parse(text, other)
    except WeightError:
        return False
    return True
