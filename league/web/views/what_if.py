"""A season under other rules: anybody who may read its table may look, and nothing is kept."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_cache_control
from django.views.decorators.http import require_http_methods

from league.models import Season
from league.operations.score import book_of_season
from league.operations.what_if import suppose
from league.rules.errors import RuleError
from league.web import access
from league.web.context import at_club
from league.web.forms.what_if import OwnBookForm, ReadyMadeForm, RulesForm
from league.web.pages import what_if as page
from league.web.pages.standings import rules_url

LIKELY_ROUNDS = 12  # where the season does not say how many it is to have


@access.for_readers
@require_http_methods(["GET", "HEAD", "POST"])
def what_if(request: HttpRequest, season_id: int) -> HttpResponse:
    """
    Choose other rules, and read the table they would make beside the one there is.

    Ready-made books and single rules are part of the address, so that the link can be sent on; a
    book of one's own is sent in a form.
    """
    season = access.season_for(request.user, season_id)
    at_club(request, season.league.club)
    forms = _forms(request, season)
    chosen = next((form for form in forms.values() if form.is_bound), None)
    context = {
        "season": season,
        "rules_url": rules_url(season),
        **forms,
        "chosen": chosen,
    }
    if chosen is not None and chosen.is_valid():
        try:
            context |= page.answer(suppose(season, chosen.rules()))
        except RuleError as error:
            chosen.add_error(None, str(error))
    response = render(request, "table/what_if.html", context)
    patch_cache_control(response, private=True, no_cache=True)
    return response


def _forms(
    request: HttpRequest, season: Season
) -> dict[str, ReadyMadeForm | OwnBookForm | RulesForm]:
    """The three ways to choose, one of them filled in at most."""
    rounds = season.planned_rounds or LIKELY_ROUNDS
    own = book_of_season(season)
    asked = request.GET
    single = asked if asked and "book" not in asked else None
    return {
        "ready_made": ReadyMadeForm(asked if "book" in asked else None, auto_id="ready_%s"),
        "own_book": (
            OwnBookForm(request.POST, request.FILES, auto_id="own_%s")
            if request.method == "POST"
            else OwnBookForm(auto_id="own_%s")
        ),
        "single": RulesForm(
            None if request.method == "POST" else single,
            book=own,
            rounds=rounds,
            auto_id="rule_%s",
        ),
    }
