"""A season under other rules: anybody who may read its table may look, and nothing is kept."""

from __future__ import annotations

from typing import TypeAlias

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.cache import patch_cache_control
from django.views.decorators.http import require_http_methods

from league.compared import what_if_columns
from league.models import Season
from league.operations.score import book_of_season
from league.operations.what_if import suppose
from league.rules.errors import RuleError
from league.web import access, downloads
from league.web.context import at_club
from league.web.forms.what_if import OwnBookForm, ReadyMadeForm, RulesForm
from league.web.pages import what_if as page
from league.web.pages.standings import rules_url

AnyForm: TypeAlias = ReadyMadeForm | OwnBookForm | RulesForm
Forms: TypeAlias = dict[str, AnyForm]
LIKELY_ROUNDS = 12  # where the season does not say how many it is to have


@access.for_readers
@require_http_methods(["GET", "HEAD", "POST"])
def what_if(request: HttpRequest, season_id: int) -> HttpResponse:
    """
    Choose other rules, and read the table they would make beside the one there is.

    Ready-made books and single rules are part of the address, so that the link can be sent on; a
    book of one's own is sent in a form.
    """
    return _page(request, _season(request, season_id))


@access.for_readers
@require_http_methods(["GET", "HEAD", "POST"])
def what_if_file(request: HttpRequest, season_id: int, ending: str) -> HttpResponse:
    """The table under the rules that were chosen, for a spreadsheet or a program."""
    season = _season(request, season_id)
    chosen = _chosen(_forms(request, season))
    if chosen is None:
        return redirect("what-if", season.pk)
    if not chosen.is_valid():
        return _page(request, season, status=400)
    try:
        rules = chosen.rules()
        answer = suppose(season, rules).answer
    except RuleError:
        return _page(request, season, status=400)
    return downloads.table_file(
        f"{season} under {rules.name}", ending, what_if_columns(answer), answer.pairs
    )


def _season(request: HttpRequest, season_id: int) -> Season:
    season = access.season_for(request.user, season_id)
    at_club(request, season.league.club)
    return season


def _chosen(forms: Forms) -> AnyForm | None:
    """The form that was filled in, if one was."""
    return next((form for form in forms.values() if form.is_bound), None)


def _page(request: HttpRequest, season: Season, status: int = 200) -> HttpResponse:
    forms = _forms(request, season)
    chosen = _chosen(forms)
    context = {
        "season": season,
        "rules_url": rules_url(season),
        "asked": request.GET.urlencode(),
        **forms,
        "chosen": chosen,
    }
    if chosen is not None and chosen.is_valid():
        try:
            context |= page.answer(suppose(season, chosen.rules()))
        except RuleError as error:
            chosen.add_error(None, str(error))
    response = render(request, "table/what_if.html", context, status=status)
    patch_cache_control(response, private=True, no_cache=True)
    return response


def _forms(request: HttpRequest, season: Season) -> Forms:
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
