"""Short sentences of the pages, in the words of the trade; figures come worked out."""

from __future__ import annotations

from datetime import date, datetime

from django.utils import timezone
from django.utils.formats import date_format

from league.rules.figures import counted, so_many
from league.rules.lines import MatchResult, Status
from league.rules.weights import spoken


def how_soon(today: date, day: date) -> str:
    """
    How long until *day*, as people say it.

    >>> today = date(2027, 1, 24)
    >>> how_soon(today, date(2027, 2, 14)), how_soon(today, today)
    ('in three weeks', 'today')
    """
    days = (day - today).days
    if days < 2:
        return ("past", "today", "tomorrow")[max(days, -1) + 1]
    if days < 14:
        return f"in {counted(days, 'day')}"
    if days < 60:
        return f"in {counted(round(days / 7), 'week')}"
    return f"in {counted(round(days / 30.4), 'month')}"


def moment(at: datetime) -> str:
    """A day and a time as a notice gives them: Monday 25 January, 20:00."""
    local = timezone.localtime(at)
    return f"{date_format(local, 'l j F')}, {date_format(local, 'H:i')}"


def long_day(day: date) -> str:
    """Sunday 24 January 2027."""
    return date_format(day, "l j F Y")


def short_day(day: date) -> str:
    """Sun 24 Jan."""
    return date_format(day, "D j M")


def what_was_caught(result: MatchResult) -> str:
    """A match in a line: 24 pegs, 269 lb 1 oz in all, one blank."""
    lines = [line for section in result.sections for line in section.lines]
    fished = [line for line in lines if line.status not in {Status.ABSENT, Status.VACANT}]
    said = [
        so_many(len(fished), "angler"),
        f"{spoken(sum(line.weight for line in lines), result.unit)} in all",
    ]
    for status, one, many in (
        (Status.BLANK, "blank", ""),
        (Status.NOT_WEIGHED, "did not weigh", "did not weigh"),
        (Status.WITHDREW, "withdrew", "withdrew"),
        (Status.ABSENT, "absent", "absent"),
        (Status.DISQUALIFIED, "disqualified", "disqualified"),
    ):
        if count := sum(line.status is status for line in lines):
            said.append(counted(count, one, many))
    return f"{', '.join(said)}."
