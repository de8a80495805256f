"""The draw: the screen for the clubhouse, and the page on which anybody checks it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.models import DrawRecord, Entry, MatchPeg, OfficeName
from league.operations.score import layout
from league.rules.weights import Unit
from league.web.access import for_readers, match_for
from league.web.cards import cards_of, strip_of_cards
from league.web.context import at_club, offices
from league.web.walk import walk_of


@for_readers
@require_safe
def draw(request: HttpRequest, match_id: int) -> HttpResponse:
    """The cards, as many turned as the address says; before the draw, how it will go."""
    match = match_for(request.user, match_id)
    at_club(request, match.club)
    is_secretary = OfficeName.SECRETARY in offices(request, match.club)
    if not match.is_drawn:
        return render(
            request,
            "draw/before.html",
            {
                "match": match,
                "is_secretary": is_secretary,
                "booked": len(Entry.objects.of(match)),
                "pegs": len(MatchPeg.objects.of(match)),
            },
        )
    cards = cards_of(walk_of(match), turned=request.GET.get("turned", ""))
    return render(
        request,
        "draw/draw.html",
        {
            "match": match,
            "cards": cards,
            "strip": strip_of_cards(cards, layout(match), Unit(match.unit)),
            "record": DrawRecord.objects.with_events(match),
            "is_secretary": is_secretary,
        },
    )
