"""A match planned: one outside any league, another day for one that is planned, one called off."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from league.models import Match, Stage
from league.operations.dates import When, move_match
from league.operations.errors import RefusedError
from league.operations.season import add_match, cancel_match
from league.operations.sections import set_sections
from league.operations.waters import usual_runs
from league.rules.figures import counted
from league.web.access import club_set_up_by, for_officers, match_set_up_by
from league.web.context import at_club
from league.web.forms.planning import (
    CancelForm,
    HoursForm,
    MatchForm,
    WhenForm,
    hours_of,
    refuse,
)
from league.web.forms.seasons import BookForm

MAY_MOVE = {Stage.PLANNED, Stage.DRAWN}


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, slug: str) -> HttpResponse:
    """A match outside any league, with rules of its own."""
    club = at_club(request, club_set_up_by(request.user, slug))
    next_sunday = timezone.localdate() + timedelta(days=6 - timezone.localdate().weekday() or 7)
    posted = request.POST if request.method == "POST" else None
    form = MatchForm(posted, club=club, day=next_sunday)
    hours = HoursForm(posted, initial=hours_of(None))
    book_form = BookForm(posted, alone=True)
    if all([form.is_valid(), hours.is_valid(), book_form.is_valid()]):
        told = form.cleaned_data
        try:
            match = add_match(
                club,
                water=told["water"],
                date=told["date"],
                name=told["name"],
                unit=book_form.chosen().unit,
                book=book_form.chosen(),
                by=request.user,
                **hours.cleaned_data,
            )
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{match.title} is planned.")
            return redirect("match-run", match.pk)
    return render(
        request, "desk/match_new.html", {"form": form, "hours": hours, "book_form": book_form}
    )


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def when(request: HttpRequest, slug: str, match_id: int) -> HttpResponse:
    """Another day, other times, another water."""
    match = match_set_up_by(request.user, slug, match_id)
    posted = request.POST if request.method == "POST" else None
    form = WhenForm(posted, match=match)
    hours = HoursForm(posted, initial=hours_of(match))
    if all([form.is_valid(), hours.is_valid()]):
        told = form.cleaned_data
        try:
            move_match(
                match,
                when=When(told["date"], **hours.cleaned_data),
                water=told["water"],
                why=told["why"],
                by=request.user,
            )
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{match.title} is moved.")
            return _back(match)
    return _page(request, match, form, hours, CancelForm(auto_id="cancel_%s"))


@for_officers
@require_POST
def cancel(request: HttpRequest, slug: str, match_id: int) -> HttpResponse:
    """Call a match off, with the reason."""
    match = match_set_up_by(request.user, slug, match_id)
    form = CancelForm(request.POST, auto_id="cancel_%s")
    if form.is_valid():
        try:
            cancel_match(match, why=form.cleaned_data["why"], by=request.user)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{match.title} is cancelled.")
            return _back(match)
    return _page(request, match, WhenForm(match=match), HoursForm(initial=hours_of(match)), form)


def _page(
    request: HttpRequest, match: Match, form: WhenForm, hours: HoursForm, off: CancelForm
) -> HttpResponse:
    at_club(request, match.club)
    context = {
        "match": match,
        "form": form,
        "hours": hours,
        "off": off,
        "open": match.stage in MAY_MOVE,
    }
    return render(request, "desk/match_when.html", context)


def _back(match: Match) -> HttpResponse:
    if match.season_id:
        return redirect("desk-season", match.club.slug, match.season_id)
    return redirect("match-run", match.pk)


@for_officers
@require_POST
def usual_sections(request: HttpRequest, slug: str, match_id: int) -> HttpResponse:
    """Cut the match as its water is usually cut; a peg out of use on the day stays out."""
    match = match_set_up_by(request.user, slug, match_id)
    try:
        runs = usual_runs(match.water)
        if not runs:
            raise RefusedError(f"{match.water} has no usual sections. Set them on its page.")
        on_the_day = {
            letter: [peg for peg in run if not peg.is_out(match.date)]
            for letter, run in runs.items()
        }
        made = set_sections(match, on_the_day, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, f"{counted(len(made), 'section').capitalize()} made, as usual here."
        )
    return redirect(f"{reverse('match-run', args=[match.pk])}#pegs")
