"""Results by e-mail: a member asks for them, or no longer does."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from league.models import Angler
from league.operations.digest import ask_for_results
from league.operations.errors import RefusedError
from league.web.access import club_for, for_members
from league.web.context import at_club
from league.web.forms.digest import AskForm


@for_members
@require_http_methods(["GET", "POST"])
def by_email(request: HttpRequest, slug: str) -> HttpResponse:
    """One's own choice, and nobody else's."""
    club = at_club(request, club_for(request.user, slug))
    angler = Angler.objects.with_user(club, request.user)
    if angler is None:
        return render(request, "result/by_email.html", {"angler": None})
    asked = {"wants": angler.results_by_email, "email": angler.email or request.user.email}
    form = AskForm(request.POST if request.method == "POST" else None, initial=asked)
    if request.method == "POST" and form.is_valid():
        try:
            ask_for_results(angler, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            form.add_error("email", str(refused))
        else:
            wants = form.cleaned_data["wants"]
            said = f"Results go to {form.cleaned_data['email']}." if wants else "No more e-mail."
            messages.success(request, said)
            return redirect("results-by-email", club.slug)
    return render(request, "result/by_email.html", {"angler": angler, "form": form})
