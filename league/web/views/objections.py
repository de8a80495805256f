"""Objections to a result: taken down, answered, and read by everybody beside it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from league.models import Decision, Match, Objection, Result
from league.operations.errors import RefusedError
from league.operations.objections import answer, hear_for, moment, object_to, told
from league.web.access import for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.objections import AnswerForm, HoursForm, ObjectForm
from league.web.forms.publish import slips


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def objections(request: HttpRequest, match_id: int) -> HttpResponse:
    """Every objection to a result, and a form for the next one."""
    match = match_run_by(request.user, match_id)
    if request.method != "POST":
        return _page(request, match)
    form = ObjectForm(request.POST, match=match, late=_is_late(match))
    if form.is_valid():
        try:
            object_to(match, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "Taken down. It stands beside the result, not answered yet.")
            return redirect("objections", match.pk)
    return _page(request, match, form=form)


@for_officers
@require_POST
def hours(request: HttpRequest, match_id: int) -> HttpResponse:
    """Say how long the club hears objections from now on."""
    match = match_run_by(request.user, match_id)
    form = HoursForm(request.POST)
    if not form.is_valid():
        return _page(request, match, hours=form)
    hear_for(match.club, form.cleaned_data["hours"], by=request.user)
    messages.success(request, f"Objections are heard for {match.club.objection_hours} hours.")
    return redirect("objections", match.pk)


@for_officers
@never_cache
@require_POST
def answered(request: HttpRequest, match_id: int, objection_id: int) -> HttpResponse:
    """Answer one objection."""
    match = match_run_by(request.user, match_id)
    objection = get_object_or_404(Objection.objects.of(match), pk=objection_id)
    decisions = list(Decision.objects.in_force(match))
    form = AnswerForm(request.POST, decisions=decisions, prefix=_prefix(objection))
    if form.is_valid():
        try:
            held = answer(objection, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"Answered: {held.get_outcome_display().lower()}.")
            return redirect("objections", match.pk)
    return _page(request, match, answering={objection.pk: form})


def _page(request: HttpRequest, match: Match, **bound: Any) -> HttpResponse:
    at_club(request, match.club)
    newest = Result.objects.of(match).first()
    answering = bound.pop("answering", {})
    found = list(Objection.objects.of(match))
    decisions = list(Decision.objects.in_force(match))
    context = {
        "match": match,
        "newest": newest,
        "until": newest.objections_until and moment(newest.objections_until) if newest else "",
        "late": _is_late(match),
        "lines": [
            (
                each,
                *told(each),
                (answering.get(each.pk) or AnswerForm(decisions=decisions, prefix=_prefix(each)))
                if each.is_open
                else None,
            )
            for each in found
        ],
        "open": sum(each.is_open for each in found),
        "hours": HoursForm(initial={"hours": match.club.objection_hours}),
        "form": ObjectForm(match=match, late=_is_late(match)),
    }
    return render(request, "run/objections.html", context | bound)


def _is_late(match: Match) -> bool:
    newest = Result.objects.of(match).first()
    until = newest.objections_until if newest else None
    return until is not None and timezone.now() > until


def _prefix(objection: Objection) -> str:
    return f"answer-{objection.pk}"
