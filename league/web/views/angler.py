"""The anglers of a club, and one angler's page."""

from __future__ import annotations

from difflib import get_close_matches

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from league.models import Angler, Match
from league.web import access, downloads
from league.web.context import at_club
from league.web.pages import angler as page
from league.web.pages.standings import rules_url
from league.web.validators import checked


@require_safe
@access.for_readers
def angler(request: HttpRequest, angler_id: int) -> HttpResponse:
    """A season along a line, every match, the best weights."""
    angler = access.angler_for(request.user, angler_id)
    at_club(request, angler.club)
    to_come = Match.objects.of(angler.club).to_come(timezone.localdate()).booked_by(angler)
    context = page.matter(angler, to_come)
    context["rules_url"] = rules_url(context["season"])
    return render(request, "angler/angler.html", context)


@require_safe
@access.for_readers
def anglers(request: HttpRequest, slug: str | None = None) -> HttpResponse:
    """Everybody by name as it is shown, with a search, and the club's records."""
    club = at_club(request, access.only_club_for(request.user, slug))
    everybody = list(Angler.objects.of(club))
    wanted = " ".join(request.GET.get("name", "").split())
    # Only shown names are searched: nobody finds out a junior's surname by trying.
    found = [each for each in everybody if wanted.casefold() in each.shown_name.casefold()]
    context = {
        "wanted": wanted,
        "everybody": len(everybody),
        "found": found,
        "meant": [] if found else _meant(wanted, everybody),
        "records": page.records(club),
    }
    return render(request, "angler/anglers.html", context)


@require_safe
@access.for_readers
def outings_file(request: HttpRequest, angler_id: int, ending: str) -> HttpResponse:
    """Every match of an angler, for a spreadsheet or a program."""
    angler = access.angler_for(request.user, angler_id)
    response = downloads.table_file(
        f"{angler.shown_name} matches", ending, page.FILE_COLUMNS, page.outings_of(angler)
    )
    return checked(request, response, public=angler.club.public)


def _meant(wanted: str, everybody: list[Angler]) -> list[Angler]:
    """Who may have been meant by a name that is nobody's."""
    names: dict[str, Angler] = {}
    for each in everybody:
        for part in (each.shown_name, *each.shown_name.split()):
            names.setdefault(part.casefold(), each)
    close = get_close_matches(wanted.casefold(), names, n=3, cutoff=0.7)
    return list(dict.fromkeys(names[name] for name in close))
