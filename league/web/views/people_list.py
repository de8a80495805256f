"""A list of anglers brought in: pasted or a file, looked over, decided on, written."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.files.people import People, read_people, write_people
from league.models import Club
from league.operations.errors import RefusedError
from league.operations.people_list import (
    Kind,
    as_spreadsheet,
    bring_in_people,
    people_in,
    plan,
)
from league.rules.errors import SheetError
from league.web.access import club_kept_by, for_officers
from league.web.context import at_club
from league.web.forms.people import DecideForm, ListForm
from league.web.forms.publish import slips

FAULTS_SHOWN = 40


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def bring_in(request: HttpRequest, slug: str) -> HttpResponse:
    """Paste a list or choose a file; what it would do is shown, and nothing is written."""
    club = at_club(request, club_kept_by(request.user, slug))
    if request.method != "POST":
        return render(request, "people/bring_in.html", {"form": ListForm()})
    form = ListForm(request.POST, request.FILES)
    faults: list[str] = []
    if form.is_valid():
        try:
            people = _read(form)
        except (SheetError, RefusedError) as refused:
            faults = str(refused).splitlines()
        else:
            return _look(request, club, people, None)
    context = {
        "form": form,
        "faults": faults[:FAULTS_SHOWN],
        "more_faults": max(0, len(faults) - FAULTS_SHOWN),
    }
    return render(request, "people/bring_in.html", context)


@for_officers
@never_cache
@require_POST
def decided(request: HttpRequest, slug: str) -> HttpResponse:
    """Write the list as it was looked at, once it is said who each row is."""
    club = at_club(request, club_kept_by(request.user, slug))
    try:
        people = read_people(request.POST.get("looked_at", ""))
    except SheetError:
        messages.error(request, "The list was lost on the way. Paste it once more.")
        return redirect("people-bring-in", club.slug)
    form = DecideForm(request.POST, planned=plan(club, people))
    if form.is_valid():
        try:
            done = bring_in_people(club, people, said=form.said, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(
                request,
                f"Brought in: {done.added} new, {done.changed} changed, {done.left} as they were.",
            )
            return redirect("people", club.slug)
    return _look(request, club, people, form)


@for_officers
@never_cache
@require_safe
def spreadsheet(request: HttpRequest, slug: str) -> HttpResponse:
    """The whole list as a spreadsheet, to be put right at leisure and brought in again."""
    club = club_kept_by(request.user, slug)
    return HttpResponse(
        as_spreadsheet(club),
        content_type="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        headers={"Content-Disposition": f'attachment; filename="{club.slug}-anglers.xlsx"'},
    )


def _read(form: ListForm) -> People:
    file = form.cleaned_data["file"]
    return people_in(file.read()) if file else read_people(form.cleaned_data["pasted"])


def _look(
    request: HttpRequest, club: Club, people: People, form: DecideForm | None
) -> HttpResponse:
    planned = plan(club, people)
    if form is None:
        # Numbered as in the list itself from here on, so that the answers find their rows.
        kept = read_people(write_people(people.people))
        planned = plan(club, kept)
        form = DecideForm(initial={"looked_at": write_people(people.people)}, planned=planned)
    context: dict[str, Any] = {
        "form": form,
        "left_out": people.left_out,
        "new": [each for each in planned if each.kind is Kind.NEW],
        "known": [each for each in planned if each.kind is Kind.KNOWN and each.changes],
        "same": [each for each in planned if each.kind is Kind.KNOWN and not each.changes],
        "likely": [each for each in planned if each.kind is Kind.LIKELY],
        "rows": len(planned),
    }
    return render(request, "people/look.html", context)
