"""A club's list of anglers as a file: who is a junior, whose name may be printed in full."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from io import StringIO
from typing import IO

from league.files.csv_text import records, refuse, shielded
from league.rules.errors import Fault, SheetError

HEADINGS = ("name", "shown_name", "junior", "consent_to_publish", "easy_access")
YES, NO = frozenset({"yes", "y", "true", "1"}), frozenset({"", "no", "n", "false", "0"})


@dataclass(frozen=True, slots=True)
class Listed:
    """An angler as the club's list has them."""

    name: str
    junior: bool = False
    consent_to_publish: bool = False
    easy_access: bool = False


def read_anglers(source: IO[bytes] | bytes | str) -> dict[str, Listed]:
    """
    The list by name, its case aside; only `name` must be there.

    Raises `SheetError` with every fault there is.

    >>> read_anglers("name,junior\\nTom Kerrow,yes\\n")["tom kerrow"].junior
    True
    """
    rows = records(source)
    headings = [cell.casefold() for cell in next(rows).cells]
    if "name" not in headings:
        raise refuse("There is no column called name. Write the headings in the first row.", 1)
    found: dict[str, Listed] = {}
    faults: list[Fault] = []
    for row in rows:
        if not any(row.cells):
            continue
        faults += row.faults
        cells = dict(zip(headings, row.cells, strict=False))
        name = cells.get("name", "")
        if not name:
            faults.append(Fault(row.number, "name", "Write the angler's name."))
        elif name.casefold() in found:
            faults.append(Fault(row.number, "name", f"{name} is in the list already."))
        said = {
            heading: _yes_or_no(cells.get(heading, ""), heading, row.number, faults)
            for heading in HEADINGS[2:]
        }
        found.setdefault(name.casefold(), Listed(name, **said))
    if faults:
        raise SheetError(tuple(faults))
    return found


def write_anglers(listed: Iterable[tuple[Listed, str]]) -> str:
    """The list as a file; beside each angler the name that may be printed."""
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow(HEADINGS)
    for angler, shown in listed:
        facts = (angler.junior, angler.consent_to_publish, angler.easy_access)
        cells = [angler.name, shown, *("yes" if fact else "" for fact in facts)]
        writer.writerow([shielded(cell) for cell in cells])
    return text.getvalue()


def _yes_or_no(cell: str, heading: str, number: int, faults: list[Fault]) -> bool:
    said = cell.casefold()
    if said not in YES | NO:
        faults.append(Fault(number, heading, f"Write yes, or nothing, not {cell!r}."))
    return said in YES
