"""Matches as a calendar that a phone or an office program subscribes to (RFC 5545)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, time, timedelta

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar, Event

from league.models import Match, Stage
from league.sheets.cautions import FIRST, SHORT

# How long past matches stay: to the winter before, so that a year can be looked back on.
KEPT = timedelta(days=400)
ASK_AGAIN = timedelta(hours=4)  # how often a program should look for changes
LABELS = (
    ("Book in by", "book_in"),
    ("Draw", "draw_at"),
    ("All in", "all_in"),
    ("All out", "all_out"),
)


def calendar_of(request: HttpRequest, name: str, matches: Iterable[Match]) -> bytes:
    """The calendar called *name* of *matches*, called off or not."""
    calendar = Calendar()
    calendar.add("prodid", "-//Drawbag//Match calendar//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", name)
    calendar.add("x-wr-calname", name)
    calendar.add("refresh-interval", ASK_AGAIN, parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", "PT4H")
    for match in matches:
        calendar.add_component(_event(request, match))
    return calendar.to_ical()


def identity(match: Match) -> str:
    """The event's name for ever: a calendar knows by it that it has this match already."""
    return f"match-{match.pk}@{match.club.slug}.drawbag"


def _event(request: HttpRequest, match: Match) -> Event:
    event = Event()
    event.add("uid", identity(match))
    event.add("dtstamp", match.moved_at)
    event.add("last-modified", match.moved_at)
    event.add("sequence", match.moves)
    event.add("summary", _summary(match))
    event.add("location", _location(match))
    event.add("description", _description(match))
    event.add("url", request.build_absolute_uri(reverse("match", args=[match.pk])))
    event.add("status", "CANCELLED" if match.stage == Stage.CANCELLED else "CONFIRMED")
    event.add("transp", "TRANSPARENT" if match.stage == Stage.CANCELLED else "OPAQUE")
    starts = match.draw_at or match.book_in or match.all_in
    if starts is None:  # no time is announced: the whole day
        event.add("dtstart", match.date)
        event.add("dtend", match.date + timedelta(days=1))
        return event
    event.add("dtstart", _at(match, starts))
    if match.all_out and match.all_out > starts:
        event.add("dtend", _at(match, match.all_out))
    return event


def _at(match: Match, at: time) -> datetime:
    """As universal time, so that no program has to know the clocks of this country."""
    return timezone.make_aware(datetime.combine(match.date, at)).astimezone(UTC)


def _summary(match: Match) -> str:
    named = f"{match.season.league.name}, {match.title}" if match.season else match.title
    return f"Cancelled: {named}" if match.stage == Stage.CANCELLED else named


def _location(match: Match) -> str:
    water, venue = match.water.name, match.water.venue.name
    return water if water == venue else f"{water}, {venue}"


def _description(match: Match) -> str:
    times = [
        f"{label} {at:%H:%M}"
        for label, field in LABELS
        if (at := getattr(match, field)) is not None
    ]
    lines = [f"{match.club.name}.", ", ".join(times) + "." if times else "", SHORT, FIRST]
    return "\n".join(line for line in lines if line)
