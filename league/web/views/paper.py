"""A match day on paper: who is where, and the weigh sheet for a pencil."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from league.models import Match
from league.web.access import for_readers, match_for
from league.web.downloads import pdf_file
from league.web.match_sheets import draw_sheet_of, weigh_sheet_of


@for_readers
@require_safe
def draw_sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """Who is on which peg, by peg and by name: for the bank and the bailiff."""
    match = _drawn(match_for(request.user, match_id))
    return pdf_file(_name(match, "draw"), draw_sheet_of(request, match))


@for_readers
@require_safe
def weigh_sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """The walk in the screen's order, for when the phone dies."""
    match = _drawn(match_for(request.user, match_id))
    return pdf_file(_name(match, "weigh-sheet"), weigh_sheet_of(request, match))


def _drawn(match: Match) -> Match:
    if not match.is_drawn:
        raise Http404("The pegs are not drawn yet, so there is no sheet.")
    return match


def _name(match: Match, what: str) -> str:
    return slugify(f"{match.title} {match.water.name} {match.date} {what}")
