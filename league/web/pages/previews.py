"""What other programs see of a page at a glance: its title, its answer, a picture, its facts."""

from __future__ import annotations

import json
from datetime import datetime, time
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from league.columns import placing
from league.files.record import record_in
from league.models import Match, Result, Season, Stage
from league.operations import score
from league.rules import words
from league.rules.weights import spoken
from league.sheets.picture import Shown, result_picture
from league.strip import BankPeg, pegs_of
from league.web.pages.result import where_and_when

IN_A_SCRIPT = {ord("<"): "\\u003C", ord(">"): "\\u003E", ord("&"): "\\u0026"}
CANCELLED, SCHEDULED = "https://schema.org/EventCancelled", "https://schema.org/EventScheduled"


def picture_of(result: Result) -> bytes:
    """The headline and the bank of *result* as a PNG."""
    worked = score.read(result)
    about = result.document["match"]
    bank = [
        BankPeg(**{**peg, "left_out": tuple(peg["left_out"])})
        for peg in result.document.get("bank", ())
    ]
    state = "Final" if result.final_at else "Provisional"
    first = [
        f"{placing(line.place, line.equal)}  {name}  {spoken(line.weight, worked.unit)}"
        for line, name in (
            [(line, line.team) for line in worked.teams]
            or [(line, line.angler) for line in worked.anglers]
        )[:5]
    ]
    return result_picture(
        Shown(
            club=about.get("club") or "",
            over=where_and_when(about),
            headline=words.headline(worked, record=record_in(result.document)),
            state=f"{state}, version {result.version}",
            pegs=pegs_of(worked, bank) if bank else (),
            unit=worked.unit,
            lines=first,
        )
    )


def preview_of_result(request: HttpRequest, result: Result) -> dict[str, str]:
    """What a chat shows of a link to *result* (the Open Graph protocol)."""
    match = result.match
    picture = reverse("result-picture", args=[match.pk, result.version])
    return {
        "title": result.headline,
        "description": _where(match),
        "address": request.build_absolute_uri(
            reverse("result-version", args=[match.pk, result.version])
        ),
        "picture": request.build_absolute_uri(picture),
        "picture_said": f"{result.headline}: the bank, peg by peg",
        "club": match.club.name,
    }


def preview_of_match(request: HttpRequest, match: Match) -> dict[str, str]:
    """What a chat shows of a link to a match's own page."""
    times = [
        f"{label} {at:%H:%M}"
        for label, at in (("draw", match.draw_at), ("all in", match.all_in))
        if at
    ]
    return {
        "title": _named(match),
        "description": ", ".join([_where(match), *times]),
        "address": request.build_absolute_uri(reverse("match", args=[match.pk])),
        "club": match.club.name,
    }


def preview_of_table(request: HttpRequest, season: Season, title: str) -> dict[str, str]:
    """What a chat shows of a link to a league table."""
    return {
        "title": title,
        "description": "Round by round, with what is dropped and how ties are split.",
        "address": request.build_absolute_uri(request.path),
        "club": season.league.club.name,
    }


def event(request: HttpRequest, match: Match, result: Result | None = None) -> SafeString:
    """The facts of *match* for the head of a page, as JSON-LD."""
    written = json.dumps(event_facts(request, match, result), ensure_ascii=False)
    # No letter of it can end the element that it stands in.
    return mark_safe(written.translate(IN_A_SCRIPT))  # noqa: S308


def event_facts(request: HttpRequest, match: Match, result: Result | None = None) -> dict[str, Any]:
    """*match* as data for search engines and calendars: a SportsEvent of schema.org."""
    club = {"@type": "SportsOrganization", "name": match.club.name}
    venue, water = match.water.venue.name, match.water.name
    found: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "SportsEvent",
        "name": _named(match),
        "sport": "Coarse angling",
        "url": request.build_absolute_uri(reverse("match", args=[match.pk])),
        "startDate": _at(match, match.draw_at or match.book_in or match.all_in),
        "eventStatus": CANCELLED if match.stage == Stage.CANCELLED else SCHEDULED,
        "eventAttendanceMode": "https://schema.org/OfflineEventAttendanceMode",
        "location": {
            "@type": "Place",
            "name": water if water == venue else f"{water}, {venue}",
            "address": venue,
        },
        "organizer": club,
    }
    if match.all_out:
        found["endDate"] = _at(match, match.all_out)
    if match.season:
        found["superEvent"] = {"@type": "EventSeries", "name": str(match.season)}
    if result is not None:
        found["description"] = f"{result.headline}."
        found["subjectOf"] = {
            "@type": "WebPage",
            "url": request.build_absolute_uri(
                reverse("result-version", args=[match.pk, result.version])
            ),
            "version": result.version,
            "datePublished": result.published_at.isoformat(),
        }
    return found


def _at(match: Match, at: time | None) -> str:
    if at is None:
        return match.date.isoformat()
    return timezone.make_aware(datetime.combine(match.date, at)).isoformat()


def _named(match: Match) -> str:
    return f"{match.season.league.name}, {match.title}" if match.season else match.title


def _where(match: Match) -> str:
    day = f"{match.date:%A} {match.date.day} {match.date:%B %Y}"
    return f"{_named(match)}. {match.water}, {day}"
