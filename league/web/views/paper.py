"""A match day on paper: who is where, and the weigh sheet for a pencil; a season as a book."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.cache import get_conditional_response
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from league.models import DrawRecord, Match, MatchPeg, OfficeName, ScalesPass
from league.operations.draw_cards import face_down
from league.operations.passes import walk_of_pass
from league.rules.errors import RuleError
from league.web.access import for_officers, for_readers, match_for, match_run_by, season_for
from league.web.card_sheets import line_up_cards_of, plan_of, team_cards_of, tickets_of
from league.web.context import offices
from league.web.downloads import pdf_file
from league.web.match_sheets import draw_sheet_of, weigh_sheet_of
from league.web.season_book import kept_book, seal_of


@for_readers
@require_safe
def draw_sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """Who is on which peg, by peg and by name: for the bank and the bailiff."""
    match = _face_up(request, match_for(request.user, match_id))
    return pdf_file(_name(match, "draw"), draw_sheet_of(request, match))


@for_readers
@require_safe
def weigh_sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """The walk in the screen's order, for when the phone dies; with *pass*, one pair's walk."""
    match = _face_up(request, match_for(request.user, match_id))
    asked = request.GET.get("pass", "")
    if not asked.isdecimal():
        return pdf_file(_name(match, "weigh-sheet"), weigh_sheet_of(request, match))
    scales_pass = get_object_or_404(ScalesPass.objects.of(match), pk=int(asked))
    try:
        sheet = weigh_sheet_of(request, match, walk_of_pass(scales_pass))
    except RuleError as error:
        raise Http404(str(error)) from error
    return pdf_file(_name(match, f"weigh-sheet {scales_pass.name}"), sheet)


@for_officers
@require_safe
def tickets(request: HttpRequest, match_id: int) -> HttpResponse:
    """Peg tickets to cut out, for a real bag."""
    match = _with_pegs(match_run_by(request.user, match_id))
    return pdf_file(_name(match, "peg-tickets"), tickets_of(request, match))


@for_officers
@require_safe
def captains(request: HttpRequest, match_id: int) -> HttpResponse:
    """The captains' cards: who fishes which section, to be written on."""
    match = _with_pegs(match_run_by(request.user, match_id))
    if match.season is None:
        raise Http404("This match has no teams, so it has no captains' cards.")
    return pdf_file(_name(match, "captains-cards"), line_up_cards_of(request, match))


@for_officers
@require_safe
def plan(request: HttpRequest, match_id: int) -> HttpResponse:
    """The bailiff's plan of the bank, with hazards and cautions."""
    match = _with_pegs(match_run_by(request.user, match_id))
    return pdf_file(_name(match, "peg-plan"), plan_of(request, match))


@for_readers
@require_safe
def teams(request: HttpRequest, match_id: int) -> HttpResponse:
    """A card a team, with the pegs it drew."""
    match = _face_up(request, match_for(request.user, match_id))
    if match.season is None:
        raise Http404("This match has no teams, so it has no team cards.")
    return pdf_file(_name(match, "team-cards"), team_cards_of(request, match))


@for_readers
@require_safe
def season_book(request: HttpRequest, season_id: int) -> HttpResponse:
    """The tables and every round in one file; made once for a state of the season, then kept."""
    season = season_for(request.user, season_id)
    seal = seal_of(request, season)
    response = get_conditional_response(request, etag=seal) or pdf_file(
        f"{season} season book", kept_book(request, season)
    )
    response["ETag"] = seal
    response["Cache-Control"] = "private, no-cache"
    return response


def _with_pegs(match: Match) -> Match:
    if not MatchPeg.objects.of(match).exists():
        raise Http404("No pegs are chosen yet. Make the sections first.")
    return match


def _face_up(request: HttpRequest, match: Match) -> Match:
    """A match whose pegs may be printed: drawn, and for all but the secretary every card turned."""
    if not match.is_drawn:
        raise Http404("The pegs are not drawn yet, so there is no sheet.")
    record = DrawRecord.objects.with_events(match)
    turning = record and face_down(record.events.all())
    if turning and OfficeName.SECRETARY not in offices(request, match.club):
        raise Http404("The cards of the draw are being turned. The sheet is here afterwards.")
    return match


def _name(match: Match, what: str) -> str:
    return slugify(f"{match.title} {match.water.name} {match.date} {what}")
