"""Rounds as a secretary pastes them: a line a round, with its date, water and times."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time, timedelta

from league.rules.errors import Fault, SheetError

MOST_ROUNDS = 60
A_YEAR = timedelta(days=366)
MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "january jan",
            "february feb",
            "march mar",
            "april apr",
            "may",
            "june jun",
            "july jul",
            "august aug",
            "september sept sep",
            "october oct",
            "november nov",
            "december dec",
        ),
        start=1,
    )
    for name in names.split()
}
DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
NUMBER = re.compile(r"(?:round|rd|r)?\s*\.?\s*(\d{1,2})\s*[.:)]?", re.I)
ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
SLASHED = re.compile(r"(\d{1,2})[/.](\d{1,2})(?:[/.](\d{4}|\d{2}))?")
WORDED = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?\s+([a-z]+)\.?(?:\s+(\d{4}))?", re.I)
TIME = re.compile(r"(\d{1,2})[:.](\d{2})")
TIMES = re.compile(r"\d{1,2}[:.]\d{2}(?:\s*(?:-|–|to)?\s*\d{1,2}[:.]\d{2})*", re.I)


@dataclass(frozen=True, slots=True)
class PastedRound:
    """One round; no *number* where the line has none, no *water* where it is the usual one."""

    row: int
    date: date
    water: str = ""
    number: int | None = None
    times: tuple[time, ...] = ()  # as many as were written, in order


def read_rounds(text: str, *, starts: date) -> tuple[PastedRound, ...]:
    """
    Read a line a round: `1, Sun 4 Oct 2026, Heron Lake, 10:00-15:00`.

    Commas, semicolons or tabs part the cells, in any order; a date without a year is the first
    such day from *starts* on. Two times are all in and all out; four are book-in, draw, all in and
    all out. Raises `SheetError` with everything that is wrong.

    >>> (found,) = read_rounds("4 Oct, Heron Lake", starts=date(2026, 9, 1))
    >>> found.date.isoformat(), found.water
    ('2026-10-04', 'Heron Lake')
    """
    faults: list[Fault] = []
    rounds: list[PastedRound] = []
    for row, line in enumerate(text.splitlines(), start=1):
        if not line.strip(" \t,;"):
            continue
        found = _round(line, row, starts, faults)
        if found is not None:
            rounds.append(found)
    faults += _twice(rounds)
    if len(rounds) > MOST_ROUNDS:
        faults.append(Fault(None, "", f"{len(rounds)} rounds are too many: {MOST_ROUNDS} fit."))
    if faults:
        raise SheetError(tuple(faults))
    return tuple(rounds)


def filled_in(
    first: date, *, count: int, every: int, from_number: int = 1, water: str = ""
) -> tuple[PastedRound, ...]:
    """
    So many rounds from *first* on, one *every* so many days.

    >>> [each.date.day for each in filled_in(date(2026, 10, 4), count=3, every=14)]
    [4, 18, 1]
    """
    return tuple(
        PastedRound(at + 1, first + timedelta(days=at * every), water, from_number + at)
        for at in range(count)
    )


def numbered(
    rounds: Sequence[PastedRound], *, taken: Sequence[int] = ()
) -> tuple[PastedRound, ...]:
    """Give those without a number the next ones free, in the order they are written."""
    used = {*taken, *(each.number for each in rounds if each.number)}
    free = (number for number in range(1, 100 + len(used)) if number not in used)
    return tuple(each if each.number else replace(each, number=next(free)) for each in rounds)


def write_round(each: PastedRound) -> str:
    """
    A round as `read_rounds` takes it.

    >>> write_round(PastedRound(1, date(2026, 10, 4), "Heron Lake", 1, (time(10), time(15))))
    '1, Sun 4 Oct 2026, Heron Lake, 10:00-15:00'
    """
    cells = [str(each.number) if each.number else "", said_day(each.date), each.water]
    cells.append("-".join(f"{at:%H:%M}" for at in each.times))
    return ", ".join(cell for cell in cells if cell)


def said_day(day: date) -> str:
    """Sun 4 Oct 2026."""
    return f"{day:%a} {day.day} {day:%b %Y}"


def _round(line: str, row: int, starts: date, faults: list[Fault]) -> PastedRound | None:
    before = len(faults)
    number: int | None = None
    day: date | None = None
    water, times = "", list[time]()
    cells = [" ".join(cell.split()) for cell in re.split(r"[,;\t]", line)]
    for at, cell in enumerate(cells):
        if not cell:
            continue
        if at == 0 and number is None and (found := NUMBER.fullmatch(cell)):
            number = int(found[1])
            if not number:
                faults.append(Fault(row, "", "Rounds are numbered 1, 2, 3 ..."))
        elif day is None and _looks_like_a_day(cell):
            day = _day(cell, row, starts, faults)
            if day is None:
                return None
        elif TIMES.fullmatch(cell):
            times += _times(cell, row, faults)
        elif not water:
            water = cell
        else:
            faults.append(
                Fault(row, "", f"{cell!r} is neither a date nor a time, and the water is {water}.")
            )
    if day is None and len(faults) == before:
        faults.append(Fault(row, "", "There is no date. Write it as 4 Oct 2026."))
    if len(times) not in (0, 1, 2, 4):
        faults.append(
            Fault(row, "", "Write two times, all in and all out, or four with book-in and draw.")
        )
    if times != sorted(set(times)):
        faults.append(Fault(row, "", "The times do not follow one another. Write 10:00-15:00."))
    if day is None or len(faults) > before:
        return None
    return PastedRound(row, day, water, number, tuple(times))


def _looks_like_a_day(cell: str) -> bool:
    bare = _without_weekday(cell)[1]
    if SLASHED.fullmatch(bare) and TIME.fullmatch(bare) and "." in bare:
        return False  # 10.30 is a time
    worded = WORDED.fullmatch(bare)
    return bool(
        ISO.fullmatch(bare)
        or SLASHED.fullmatch(bare)
        or (worded and worded[2].casefold() in MONTHS)
    )


def _without_weekday(cell: str) -> tuple[int | None, str]:
    head, _, rest = cell.partition(" ")
    word = head.strip(".").casefold()
    for number, name in enumerate(DAYS):
        if len(word) >= 3 and name.startswith(word):
            return number, rest.strip()
    return None, cell


def _day(cell: str, row: int, starts: date, faults: list[Fault]) -> date | None:
    weekday, bare = _without_weekday(cell)
    year: int | None
    if found := ISO.fullmatch(bare):
        year, month, number = int(found[1]), int(found[2]), int(found[3])
    elif found := SLASHED.fullmatch(bare):
        number, month = int(found[1]), int(found[2])
        year = int(found[3]) if found[3] else None
        if year is not None and year < 100:
            year += 2000
    else:
        found = WORDED.fullmatch(bare)
        assert found is not None  # noqa: S101 -- looked at before
        number, month = int(found[1]), MONTHS[found[2].casefold()]
        year = int(found[3]) if found[3] else None
    try:
        if year is None:
            day = date(starts.year, month, number)
            day = day if day >= starts else date(starts.year + 1, month, number)
        else:
            day = date(year, month, number)
    except ValueError:
        faults.append(Fault(row, "", f"There is no {cell}. Write the date as 4 Oct 2026."))
        return None
    if not starts - A_YEAR <= day <= starts + 2 * A_YEAR:
        faults.append(
            Fault(
                row, "", f"{said_day(day)} is far from the season, which starts {said_day(starts)}."
            )
        )
        return None
    if weekday is not None and day.weekday() != weekday:
        faults.append(
            Fault(row, "", f"{day.day} {day:%B %Y} is a {day:%A}, not a {DAYS[weekday].title()}.")
        )
        return None
    return day


def _times(cell: str, row: int, faults: list[Fault]) -> list[time]:
    times = []
    for hour, minute in TIME.findall(cell):
        try:
            times.append(time(int(hour), int(minute)))
        except ValueError:
            faults.append(Fault(row, "", f"{hour}:{minute} is no time of the day."))
    return times


def _twice(rounds: Sequence[PastedRound]) -> list[Fault]:
    faults = []
    seen: dict[int, int] = {}
    for each in rounds:
        if each.number is None:
            continue
        if each.number in seen:
            faults.append(
                Fault(each.row, "", f"Round {each.number} is in row {seen[each.number]} already.")
            )
        seen[each.number] = each.row
    return faults
