"""A club's people out of a spreadsheet: pasted, as CSV, as rows of cells; faults by place."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import StringIO

from league.files.csv_text import records, refuse, shielded, text_trouble
from league.rules.errors import Fault, SheetError

LONGEST_NAME = 80
LONGEST_EMAIL = 254
MOST = 2_000  # rows of one list

# What a club's own spreadsheet calls a column, by what it is here.
HEADINGS = {
    "name": ("name", "angler", "full name", "member", "who", "anglers name"),
    "first": ("first name", "first", "forename", "christian name", "given name"),
    "last": ("surname", "last name", "last", "family name"),
    "email": ("email", "e mail", "email address", "e mail address", "mail"),
    "junior": ("junior", "jnr", "under 18"),
    "consent": ("consent", "consent to publish", "may be printed", "photo and name consent"),
    "easy_access": ("easy access", "easy access peg", "needs easy access", "disabled peg"),
    "initial_only": ("initial only", "initials only", "name withheld"),
}
FACTS = ("junior", "consent", "easy_access", "initial_only")
YES = frozenset({"yes", "y", "true", "1", "x", "✓", "✔"})
NO = frozenset({"no", "n", "false", "0", "-", "–", "✗"})
# As loose as the standard is; whether anybody reads it only a letter can tell.
EMAIL = re.compile(r"[^\s@<>,;]+@[^\s@<>,;]+\.[^\s@<>,;.]+")


@dataclass(frozen=True, slots=True)
class Person:
    """One row: who, and what the list says of them; None is a thing it does not say."""

    row: int
    name: str
    email: str | None = None
    junior: bool | None = None
    consent: bool | None = None
    easy_access: bool | None = None
    initial_only: bool | None = None


@dataclass(frozen=True, slots=True)
class People:
    """A list as it was read, and which of its columns were of no use here."""

    people: tuple[Person, ...]
    left_out: tuple[str, ...]


def read_people(source: bytes | str) -> People:
    """
    Read a list from CSV bytes or from text pasted out of a spreadsheet.

    Raises `SheetError` with every fault there is, by row and column.

    >>> read_people("Name,Junior\\nTom Kerrow,yes\\n").people[0].junior
    True
    """
    found: list[Sequence[str]] = []
    faults: list[Fault] = []
    for record in records(source):
        # Rows keep their numbers: the spreadsheet beside the screen has the same.
        found.append(record.cells)
        faults += record.faults
        if len(found) > MOST + 1:
            break
    return read_rows(found, faults)


def read_rows(rows: Iterable[Sequence[str]], before: Iterable[Fault] = ()) -> People:
    """
    Read a list from rows of cells, the first of them row 1; *before* are faults of their text.

    A single column without a heading is a list of names.
    """
    cells = [[_clean(cell) for cell in row] for row in rows]
    if len(cells) > MOST + 1:
        raise refuse(f"The list has more than {MOST} rows. Bring it in two parts.")
    if not any(any(row) for row in cells):
        raise refuse("The list is empty. Copy the names in the spreadsheet and paste them here.")
    columns, left_out, start = _columns(cells)
    faults = list(before)
    if list(columns) == ["name"] and not left_out:
        # A comma in a list of nothing but names belongs to the name: Kerrow, Tom.
        cells = [[", ".join(cell for cell in row if cell)] for row in cells]
        columns = {"name": 0}
    wide = max(len(cells[start - 1]), 1) if start else 1
    people: list[Person] = []
    seen: dict[str, int] = {}
    for number, row in enumerate(cells, start=1):
        if number <= start or not any(row):
            continue
        if any(row[wide:]):
            faults.append(
                Fault(
                    number,
                    "",
                    "This row has more cells than there are headings. Where a comma belongs to a "
                    'cell, put the cell in quotation marks: "Kerrow, Tom".',
                )
            )
            continue
        person = _person(number, row, columns, faults)
        if person is None:
            continue
        key = person.name.casefold()
        if key in seen:
            faults.append(
                Fault(
                    number,
                    "name",
                    f"{person.name} is in row {seen[key]} already. If they are two people, tell "
                    "them apart: Tom Kerrow (Ashby). If not, take one row out.",
                )
            )
        seen.setdefault(key, number)
        people.append(person)
    if faults:
        raise SheetError(tuple(faults))
    if not people:
        raise refuse("There are headings and nobody under them.")
    return People(tuple(people), tuple(left_out))


def write_people(people: Iterable[Person]) -> str:
    """The list as CSV, so that it can be put right in a spreadsheet and brought back."""
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow(
        ("name", "email", "junior", "consent to publish", "easy access", "initial only")
    )
    for each in people:
        facts = (each.junior, each.consent, each.easy_access, each.initial_only)
        said = ("" if fact is None else "yes" if fact else "no" for fact in facts)
        writer.writerow([shielded(cell) for cell in (each.name, each.email or "", *said)])
    return text.getvalue()


def _columns(cells: Sequence[Sequence[str]]) -> tuple[dict[str, int], list[str], int]:
    """Which column is what, the headings of no use, and how many rows stand above the people."""
    start = next(at for at, row in enumerate(cells) if any(row))
    known = {words: key for key, names in HEADINGS.items() for words in names}
    columns: dict[str, int] = {}
    left_out: list[str] = []
    for at, heading in enumerate(cells[start]):
        key = known.get(_heading(heading))
        if key is None:
            if heading:
                left_out.append(heading)
        elif key in columns:
            raise refuse(f"Two columns are called {heading}. Take one out.", start + 1)
        else:
            columns[key] = at
    if "name" in columns or {"first", "last"} <= columns.keys():
        return columns, left_out, start + 1
    if not columns and max(len([cell for cell in row if cell]) for row in cells) == 1:
        return {"name": 0}, [], start
    raise refuse(
        "There is no column called name, and no first name with a surname. Write the headings "
        "in the first row: name, email, junior, consent, easy access.",
        start + 1,
    )


def _heading(cell: str) -> str:
    """A heading as it is compared: no capitals, no signs, nothing in brackets."""
    bare = re.sub(r"\(.*?\)|[?.:'’]", "", cell.casefold())
    return " ".join(re.sub(r"[-_/]", " ", bare).split())


def _person(
    number: int, row: Sequence[str], columns: dict[str, int], faults: list[Fault]
) -> Person | None:
    def cell(key: str) -> str | None:
        at = columns.get(key)
        return None if at is None else (row[at] if at < len(row) else "")

    name = cell("name")
    if not name:
        name = " ".join(part for part in (cell("first"), cell("last")) if part)
    name = _turned(name)
    before = len(faults)
    if not name:
        faults.append(Fault(number, "name", "Write the angler's name."))
    elif trouble := text_trouble(name, LONGEST_NAME):
        faults.append(Fault(number, "name", trouble))
    elif not any(each.isalpha() for each in name):
        faults.append(Fault(number, "name", f"{name} is no name: it has no letter in it."))
    email = cell("email") or None
    if email and (len(email) > LONGEST_EMAIL or not EMAIL.fullmatch(email)):
        faults.append(Fault(number, "email", f"{email} is no e-mail address."))
    facts = {fact: _yes_or_no(cell(fact), fact, number, faults) for fact in FACTS}
    return Person(number, name, email, **facts) if len(faults) == before else None


def _turned(name: str) -> str:
    """Kerrow, Tom as it is said: Tom Kerrow."""
    last, comma, first = name.partition(",")
    return f"{first.strip()} {last.strip()}".strip() if comma and "," not in first else name


def _yes_or_no(cell: str | None, column: str, number: int, faults: list[Fault]) -> bool | None:
    """An empty cell says nothing: it takes nobody's consent away."""
    if not cell:
        return None
    said = cell.casefold()
    if said not in YES | NO:
        faults.append(
            Fault(number, column.replace("_", " "), f"Write yes or no, or nothing, not {cell!r}.")
        )
    return said in YES


def _clean(cell: str) -> str:
    return unicodedata.normalize("NFC", " ".join(cell.split()))
