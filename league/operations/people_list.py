"""A list of anglers brought into the club: looked over first, decided on, then written at once."""

from __future__ import annotations

import zipfile
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from io import BytesIO
from xml.etree import ElementTree  # only the name of its error

import tablib
from django.contrib.auth.models import User
from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from league.files.people import MOST, People, Person, read_people, read_rows
from league.models import Angler, Club
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.people import About, about, add_angler, change_angler, what_changes
from league.operations.store import writing
from league.rules.same_person import Closeness, Likeness, by_word, probably

LARGEST = 2_000_000  # bytes of a file
UNPACKED = 40_000_000  # bytes of a spreadsheet opened up: a small file can hold a great deal
MOST_COLUMNS = 60
BROKEN = (
    zipfile.BadZipFile,
    InvalidFileException,
    ElementTree.ParseError,
    LookupError,
    ValueError,
    TypeError,
    AttributeError,
    OSError,
)
ZIP, OLD_EXCEL = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
NEW = "new"
COLUMNS = ("name", "email", "junior", "consent to publish", "easy access", "initial only")


class Kind(Enum):
    """What a row of the list is, as far as anybody can tell without asking."""

    NEW = "new"
    KNOWN = "known"
    LIKELY = "likely"


@dataclass(frozen=True, slots=True)
class Guess:
    """Somebody on record whom a row may be, and why."""

    angler: Angler
    likeness: Likeness
    changes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Planned:
    """One row: who it would be, and what would change; guesses only where somebody must say."""

    person: Person
    kind: Kind
    guesses: tuple[Guess, ...] = ()

    @property
    def changes(self) -> tuple[str, ...]:
        """What would change of somebody who is known."""
        return self.guesses[0].changes if self.kind is Kind.KNOWN else ()


@dataclass(frozen=True, slots=True)
class Brought:
    """What a list did."""

    added: int
    changed: int
    left: int


def people_in(content: bytes, name: str = "") -> People:
    """
    Read a file, CSV or XLSX by what is in it and not by what it is called.

    Raises `RefusedError` where it is neither, `SheetError` with every fault in it.
    """
    if len(content) > LARGEST:
        raise RefusedError(
            f"The file is over {LARGEST // 1_000_000} MB, which is no list of anglers. "
            "Save the one sheet with the names by itself."
        )
    if content.startswith(OLD_EXCEL):
        raise RefusedError("This is a spreadsheet of the old kind. Save it as .xlsx or as CSV.")
    return read_rows(_sheet(content)) if content.startswith(ZIP) else read_people(content)


def plan(club: Club, people: People) -> list[Planned]:
    """What bringing in *people* would do, row by row; nothing is written."""
    on_record = list(Angler.objects.of(club))
    by_key = {angler.pk: angler for angler in on_record}
    names = {angler.pk: angler.name for angler in on_record}
    words = by_word(names)
    exact: dict[str, list[Angler]] = {}
    for angler in on_record:
        exact.setdefault(angler.name.casefold(), []).append(angler)
    planned = []
    for person in people.people:
        known = exact.get(person.name.casefold(), [])
        if len(known) == 1:
            guess = _guess(person, known[0], Likeness(Closeness.SAME))
            planned.append(Planned(person, Kind.KNOWN, (guess,)))
            continue
        guesses = [
            _guess(person, by_key[key], like) for key, like in probably(person.name, names, words)
        ]
        kind = Kind.LIKELY if guesses else Kind.NEW
        planned.append(Planned(person, kind, tuple(guesses)))
    return planned


def bring_in_people(
    club: Club, people: People, *, said: Mapping[int, str], by: User | None
) -> Brought:
    """
    Write the list: everything, or nothing.

    *said* answers, by row, whether somebody who may be on record is new or which angler they are.
    Somebody who is on record keeps the name on record; an empty cell changes nothing.
    """
    with writing():
        planned = plan(club, people)
        chosen = [_who(each, said) for each in planned]
        twice = [pk for pk, count in Counter(a.pk for a in chosen if a).items() if count > 1]
        if twice:
            names = [
                each.person.name
                for each, angler in zip(planned, chosen, strict=True)
                if angler and angler.pk == twice[0]
            ]
            raise RefusedError(
                f"{' and '.join(names)} would be one angler. Say of one of them that it is "
                "somebody new, or take a row out of the list."
            )
        added = changed = 0
        for each, angler in zip(planned, chosen, strict=True):
            if angler is None:
                add_angler(club, _about(each.person, About(each.person.name)), by=by)
                added += 1
                continue
            now = about(angler)
            wanted = replace(_about(each.person, now), name=now.name)
            if wanted != now:
                change_angler(angler, wanted, by=by)
                changed += 1
        left = len(planned) - added - changed
        write_down(
            f"A list of {len(planned)} anglers brought in: {added} new, {changed} changed.",
            by=by,
            club=club,
        )
    return Brought(added, changed, left)


def as_spreadsheet(club: Club) -> bytes:
    """The anglers of *club* as a spreadsheet, which can be put right and brought in again."""
    sheet = tablib.Dataset(title="Anglers", headers=list(COLUMNS))
    for angler in Angler.objects.of(club):
        facts = (
            angler.junior,
            angler.consent_to_publish,
            angler.easy_access,
            angler.initial_only,
        )
        sheet.append([angler.name, angler.email, *("yes" if fact else "no" for fact in facts)])
    # Escaped: a name that begins with = is a name, and no formula on somebody's machine.
    written: bytes = sheet.export("xlsx", escape=True)
    return written


def _who(planned: Planned, said: Mapping[int, str]) -> Angler | None:
    if planned.kind is Kind.NEW:
        return None
    if planned.kind is Kind.KNOWN:
        return planned.guesses[0].angler
    answer = said.get(planned.person.row, "")
    for guess in planned.guesses:
        if str(guess.angler.pk) == answer:
            return guess.angler
    if answer != NEW:
        raise RefusedError(
            f"Say whether {planned.person.name} is somebody new or is on record already."
        )
    return None


def _guess(person: Person, angler: Angler, likeness: Likeness) -> Guess:
    now = about(angler)
    wanted = replace(_about(person, now), name=now.name)
    return Guess(angler, likeness, tuple(what_changes(now, wanted)))


def _about(person: Person, now: About) -> About:
    """What is on record with what the row says of it; what it does not say stays."""

    def either(said: bool | None, kept: bool) -> bool:
        return kept if said is None else said

    return About(
        person.name,
        person.email or now.email,
        either(person.junior, now.junior),
        either(person.consent, now.consent_to_publish),
        either(person.initial_only, now.initial_only),
        either(person.easy_access, now.easy_access),
    )


def _sheet(content: bytes) -> Sequence[Sequence[str]]:
    """The first sheet of a spreadsheet as rows of text."""
    no_sheet = RefusedError(
        "This spreadsheet cannot be read. Save it again as .xlsx, or save the sheet as CSV."
    )
    try:
        with zipfile.ZipFile(BytesIO(content)) as packed:
            if sum(part.file_size for part in packed.infolist()) > UNPACKED:
                raise RefusedError(
                    "The spreadsheet is too large opened up. Save the one sheet with the names "
                    "by itself."
                )
        book = load_workbook(BytesIO(content), read_only=True, data_only=True)
        rows = book.worksheets[0].iter_rows(max_row=MOST + 2, max_col=MOST_COLUMNS)
        return [[_cell(cell.value) for cell in row] for row in rows]
    # What a broken file raises depends on where it is broken; none of it says anything to people.
    except BROKEN as bad:
        raise no_sheet from bad


def _cell(cell: object) -> str:
    """A cell as a person reads it: TRUE as yes, 1.0 as 1, nothing as nothing."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell)
