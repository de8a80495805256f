"""What every page's head needs: the club, its pages and the offices of whoever is signed in."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.urls import reverse

from league.models import Club, OfficeName
from league.web.access import offices_of

# The club's pages in the order of the head, and the pages that lie under each.
PAGES = (
    ("Next match", "next-match", {"next-match", "match", "draw", "draw-check"}),
    (
        "Results",
        "results",
        {"results", "result", "result-version", "result-versions", "result-moved"},
    ),
    (
        "League",
        "leagues",
        {
            "leagues",
            "table",
            "table-anglers",
            "table-anglers-page",
            "honours",
            "rules",
            "what-if",
            "team",
            "head-to-head",
        },
    ),
    ("Anglers", "anglers", {"anglers", "angler", "records"}),
)
HAVE_A_DESK = {OfficeName.SECRETARY, OfficeName.SCALES, OfficeName.TREASURER}


def at_club(request: HttpRequest, club: Club) -> Club:
    """Say whose page this is, so that its head carries that club's name and pages."""
    request.club = club  # type: ignore[attr-defined]
    return club


def club_of(request: HttpRequest) -> Club | None:
    """Whose page this is; where no view has said so, the only club there is to see, if any."""
    if not hasattr(request, "club"):
        visible = Club.objects.visible_to(getattr(request, "user", None)).by_name()[:2]
        clubs = list(visible)
        request.club = clubs[0] if len(clubs) == 1 else None  # type: ignore[attr-defined]
    club: Club | None = request.club  # type: ignore[attr-defined]
    return club


def club_pages(request: HttpRequest) -> dict[str, Any]:
    """Name the club and its pages; empty where there is no club yet."""
    club = club_of(request)
    if club is None:
        return {}
    return {
        "club": club,
        "nav": _nav(request, club),
        "office_names": offices(request, club) & HAVE_A_DESK,
    }


def offices(request: HttpRequest, club: Club) -> set[str]:
    """The offices of whoever is signed in, asked for once a request."""
    if not hasattr(request, "offices"):
        user = getattr(request, "user", None)
        request.offices = offices_of(user, club) if user else set()  # type: ignore[attr-defined]
    held: set[str] = request.offices  # type: ignore[attr-defined]
    return held


def _nav(request: HttpRequest, club: Club) -> list[tuple[str, str, bool]]:
    here = request.resolver_match.url_name if request.resolver_match else None
    return [(label, reverse(page, args=[club.slug]), here in under) for label, page, under in PAGES]
