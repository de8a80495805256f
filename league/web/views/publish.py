"""From weights to a published result: look it over, publish, correct, make final; and decisions."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from league.models import Decision, Match, Phone, Result
from league.operations.decide import decide, lift
from league.operations.digest import letter, send_result
from league.operations.errors import RefusedError
from league.operations.guard import last_look
from league.operations.publish import make_final, publish
from league.operations.score import changed_since, gaps
from league.rules.errors import RuleError
from league.web.access import for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.publish import DecideForm, LiftForm, PublishForm
from league.web.pages.draft import draft, letter_text
from league.web.views.run import done, run_page


@for_officers
@require_http_methods(["GET", "POST"])
def look_over(request: HttpRequest, match_id: int) -> HttpResponse:
    """What would be published and what is missing; then publish it."""
    match = match_run_by(request.user, match_id)
    newest = Result.objects.of(match).first()
    if request.method != "POST":
        form = PublishForm(initial={"correcting": newest.version if newest else None})
        return _preview(request, match, newest, form)
    form = PublishForm(request.POST)

    def act() -> str:
        tell = form.cleaned_data.pop("tell")
        result = publish(match, by=request.user, **form.cleaned_data)
        said = f"Version {result.version} is published: {result.headline}"
        return f"{said}. {_told(request, result)}" if tell else said

    return done(request, match, form, act) or _preview(
        request, match, Result.objects.of(match).first(), form
    )


@for_officers
@require_POST
def final(request: HttpRequest, match_id: int) -> HttpResponse:
    """Make the newest version final."""
    match = match_run_by(request.user, match_id)
    try:
        result = make_final(match, by=request.user)
    except RefusedError as refused:
        for line in str(refused).splitlines():
            messages.error(request, line)
    else:
        messages.success(request, f"Version {result.version} is final.")
    return redirect("match-run", match.pk)


@for_officers
@require_POST
def decision(request: HttpRequest, match_id: int) -> HttpResponse:
    """Decide on an angler or a team."""
    match = match_run_by(request.user, match_id)
    form = DecideForm(request.POST, match=match, auto_id="decide_%s")

    def act() -> str:
        made = decide(match, by=request.user, **form.decision())
        return f"Decided: {made}. It counts in the next version that is published."

    return done(request, match, form, act) or run_page(request, match, decide=form)


@for_officers
@require_POST
def lift_decision(request: HttpRequest, match_id: int, decision_id: int) -> HttpResponse:
    """Take a decision back."""
    match = match_run_by(request.user, match_id)
    made = get_object_or_404(Decision.objects.in_force(match), pk=decision_id)
    form = LiftForm(request.POST)

    def act() -> str:
        lift(made, by=request.user, why=form.cleaned_data["why"])
        return f"Lifted: {made}."

    return done(request, match, form, act) or run_page(request, match, lift=form, lifting=made.pk)


def _told(request: HttpRequest, result: Result) -> str:
    """Send the letters; the result stands, whatever becomes of them."""
    try:
        return send_result(result, letter_text(request, result), by=request.user).words
    except RefusedError as refused:
        return f"No e-mail went out. {refused}"


def _preview(
    request: HttpRequest, match: Match, newest: Result | None, form: PublishForm
) -> HttpResponse:
    at_club(request, match.club)
    versions = list(Result.objects.of(match))
    problem, looks, drafted, mail = "", [], None, None
    if match.is_drawn:
        try:
            drafted = draft(match, versions)
            looks = last_look(match)
            if drafted.told:
                text = letter_text(request, drafted.result)
                mail = letter(drafted.result, text, by=request.user)
        except (RuleError, RefusedError) as error:
            problem = str(error)
    return render(
        request,
        "run/publish.html",
        {
            "match": match,
            "newest": newest,
            "form": form,
            "gaps": gaps(match),
            "looks": looks,
            "holding": Phone.objects.still_holding(match),
            "draft": drafted,
            "letter": mail,
            "problem": problem,
            "changed": changed_since(newest) if newest else [],
            # Whoever was overtaken has been told; pressing again follows the version now shown.
            "correcting": newest.version if newest else "",
        },
    )
