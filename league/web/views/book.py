"""The rules of a season changed on its desk: freely, or with a look at what moves, and a reason."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from league.files import rulebook
from league.models import RulesChange, Season
from league.operations.change_rules import Ahead, change_rules, last_published, look_ahead
from league.operations.errors import RefusedError
from league.operations.score import book_of_season
from league.operations.what_if import Supposed
from league.rules import words
from league.rules.announced import read_out
from league.rules.rulebook import Rulebook
from league.web.access import for_officers, season_set_up_by
from league.web.context import at_club
from league.web.forms.planning import refuse
from league.web.forms.seasons import BookForm
from league.web.forms.what_if import OwnBookForm, RulesForm
from league.web.pages import what_if as page

LIKELY_ROUNDS = 12  # where the season does not say how many it is to have


class ConfirmForm(forms.Form):
    """The rules that were looked at, and why they change."""

    written = forms.CharField(widget=forms.HiddenInput, strip=False)
    why = forms.CharField(
        label="Why the rules change",
        max_length=300,
        error_messages={"required": "Say why: it is printed with the rules."},
        help_text="Printed with the rules, with your name and the day.",
    )


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def rules(request: HttpRequest, slug: str, season_id: int) -> HttpResponse:
    """
    Choose other rules for a season.

    Until a round is published they hold at once. Afterwards the page asks first: it shows what
    moves, and takes a reason.
    """
    season = season_set_up_by(request.user, slug, season_id)
    at_club(request, season.league.club)
    ways = _ways(request, season)
    confirm = ConfirmForm(request.POST) if request.POST.get("way") == "confirm" else None
    ahead = None
    if confirm is not None:
        book = _written(confirm)
        good = book is not None and confirm.is_valid()
        if good and (answer := _change(request, season, book, confirm)):
            return answer
        ahead = _ahead(season, book, confirm) if book else None
    chosen = next((form for form in ways.values() if form.is_bound), None)
    if chosen is not None and chosen.is_valid():
        book = _book(season, chosen)
        if not last_published(season):
            if answer := _change(request, season, book, chosen):
                return answer
        elif ahead := _ahead(season, book, chosen):
            confirm = ConfirmForm(initial={"written": rulebook.write_toml(book)})
    context: dict[str, Any] = {
        "season": season,
        "book": book_of_season(season),
        "parts": read_out(book_of_season(season)),
        "kept": list(RulesChange.objects.of(season)),
        "published": last_published(season),
        "confirm": confirm,
        **ways,
        **(_said(ahead) if ahead else {}),
    }
    return render(request, "desk/rules.html", context)


def _ways(request: HttpRequest, season: Season) -> dict[str, Any]:
    """The three ways to choose, one of them filled in at most."""
    way = request.POST.get("way", "")
    own = book_of_season(season)
    return {
        "single": RulesForm(
            request.POST if way == "single" else None,
            book=own,
            rounds=season.planned_rounds or LIKELY_ROUNDS,
            auto_id="rule_%s",
        ),
        "book_form": BookForm(request.POST if way == "ready" else None, like=own),
        "own_book": (
            OwnBookForm(request.POST, request.FILES, auto_id="own_%s")
            if way == "own"
            else OwnBookForm(auto_id="own_%s")
        ),
    }


def _book(season: Season, chosen: Any) -> Rulebook:
    book: Rulebook = chosen.chosen() if isinstance(chosen, BookForm) else chosen.rules()
    if isinstance(chosen, RulesForm):
        # No longer the ready-made book it may have been: it is the league's own.
        return replace(book, name=season.league.name)
    return book


def _written(confirm: ConfirmForm) -> Rulebook | None:
    try:
        return rulebook.read_toml(confirm.data.get("written", ""))
    except ValueError:
        confirm.add_error(None, "These rules cannot be read any more. Choose them again below.")
        return None


def _ahead(season: Season, book: Rulebook, form: Any) -> Ahead | None:
    try:
        return look_ahead(season, book)
    except RefusedError as refused:
        refuse(form, refused)
        return None


def _change(request: HttpRequest, season: Season, book: Rulebook, form: Any) -> HttpResponse | None:
    try:
        change_rules(season, book, why=form.cleaned_data.get("why", ""), by=request.user)
    except RefusedError as refused:
        refuse(form, refused)
        return None
    messages.success(request, "These are the rules of the season from now on.")
    return redirect("desk-season", season.league.club.slug, season.pk)


def _said(ahead: Ahead) -> dict[str, Any]:
    """What the page says of the change before it is made."""
    unit = ahead.corrected.then.unit
    return {
        "ahead": ahead,
        "becomes": read_out(ahead.book),
        **page.answer(Supposed(ahead.book, ahead.at_once, ahead.notes)),
        "if_corrected": words.what_if_headline(ahead.corrected),
        "moves_corrected": [
            (move.facts["name"], words.say(move, unit)) for move in ahead.corrected.moves
        ],
    }
