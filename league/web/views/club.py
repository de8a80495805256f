"""What the club says of itself: one page, for its match secretary."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from league.operations.club import change_club, days_of_backups
from league.operations.errors import RefusedError
from league.web.access import club_set_up_by, for_officers
from league.web.context import at_club
from league.web.forms.club import ClubForm
from league.web.forms.planning import refuse


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def club(request: HttpRequest, slug: str) -> HttpResponse:
    """Look at it, and write it otherwise."""
    found = at_club(request, club_set_up_by(request.user, slug))
    form = ClubForm(request.POST if request.method == "POST" else None, club=found)
    if form.is_valid():
        try:
            change_club(found, form.told(), by=request.user)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, "The club is kept so.")
            return redirect("desk", found.slug)
    return render(request, "desk/club.html", {"form": form, "days": days_of_backups()})
