"""The secretary's anglers: the list, one of them, two records made one, a name taken out."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.models import User
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.text import slugify
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Angler, Club, Office
from league.operations.erase import erase, still_to_come
from league.operations.errors import RefusedError
from league.operations.names import Carried
from league.operations.own_data import as_json, as_json_of_user
from league.operations.people import (
    about,
    add_angler,
    change_angler,
    join_sign_in,
    merge,
    two_people,
)
from league.rules.figures import so_many
from league.rules.same_person import pairs, plain
from league.web.access import club_kept_by, for_members, for_officers
from league.web.context import at_club
from league.web.forms.people import AnglerForm, MergeForm, SignInForm
from league.web.forms.publish import slips

A_PAGE = 60


@for_officers
@never_cache
@require_safe
def people(request: HttpRequest, slug: str) -> HttpResponse:
    """Every angler with what is on record, a page at a time; a search over the full names."""
    club = at_club(request, club_kept_by(request.user, slug))
    everybody = list(Angler.objects.of(club))
    wanted = " ".join(request.GET.get("name", "").split())
    found = [each for each in everybody if plain(wanted) in plain(each.name)]
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "everybody": len(everybody),
        "juniors": sum(each.junior for each in everybody),
        "withheld": sum(each.shown_name != each.name for each in everybody),
        "reached": sum(bool(each.email) for each in everybody),
        "wanted": wanted,
        "page": page,
    }
    return render(request, "people/people.html", context)


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def add(request: HttpRequest, slug: str) -> HttpResponse:
    """Put one angler on the list."""
    club = at_club(request, club_kept_by(request.user, slug))
    form = AnglerForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        try:
            angler = add_angler(club, form.about, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"{angler.name} is on the list.")
            return redirect("people", club.slug)
    return render(request, "people/add.html", {"form": form})


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: HttpRequest, slug: str, angler_id: int) -> HttpResponse:
    """What is on record of one angler, to be put right."""
    club, angler = _angler(request, slug, angler_id)
    form = AnglerForm(request.POST if request.method == "POST" else None, initial=_initial(angler))
    if form.is_bound and form.is_valid():
        try:
            carried = change_angler(angler, form.about, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            _told(request, f"Saved. {form.about.name} is up to date.", carried)
            return redirect("person", club.slug, angler.pk)
    return _record(request, club, angler, form=form)


@for_officers
@never_cache
@require_POST
def sign_in_of(request: HttpRequest, slug: str, angler_id: int) -> HttpResponse:
    """Say whose sign-in is this angler's."""
    club, angler = _angler(request, slug, angler_id)
    form = SignInForm(request.POST, people=_people(club, angler))
    if form.is_valid():
        try:
            join_sign_in(angler, form.chosen, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "Saved.")
            return redirect("person", club.slug, angler.pk)
    return _record(request, club, angler, sign_in=form)


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def merging(request: HttpRequest, slug: str, angler_id: int) -> HttpResponse:
    """Two records of one person: look at both, then make them one."""
    club, angler = _angler(request, slug, angler_id)
    form = _merge_form(club, angler, request.POST if request.method == "POST" else request.GET)
    other: Angler | None = form.cleaned_data["other"] if form.is_valid() else None
    if other is None:
        return _record(request, club, angler, merge=form)
    if request.method == "POST":
        try:
            carried = merge(angler, other, by=request.user)
        except RefusedError as refused:
            for line in str(refused).splitlines():
                messages.error(request, line)
        else:
            _told(request, f"One record: {angler.name}. Every result stands.", carried)
            return redirect("person", club.slug, angler.pk)
    context = {"angler": angler, "other": other, "reasons": two_people(angler, other)}
    return render(request, "people/merge.html", context)


@for_officers
@never_cache
@require_safe
def doubles(request: HttpRequest, slug: str) -> HttpResponse:
    """Records that may be one person's, the likeliest first."""
    club = at_club(request, club_kept_by(request.user, slug))
    anglers = {angler.pk: angler for angler in Angler.objects.of(club)}
    found = pairs({key: angler.name for key, angler in anglers.items()})
    lines = [(anglers[one], anglers[other], like) for one, other, like in found]
    page = Paginator(lines, A_PAGE).get_page(request.GET.get("page"))
    return render(request, "people/doubles.html", {"page": page})


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def erasing(request: HttpRequest, slug: str, angler_id: int) -> HttpResponse:
    """What taking a name out does and cannot do; then do it."""
    club, angler = _angler(request, slug, angler_id)
    typed, slip = "", ""
    if request.method == "POST":
        typed = " ".join(request.POST.get("name", "").split())
        if typed != angler.name:
            slip = f"Type the name as it is on record: {angler.name}."
        else:
            try:
                carried = erase(angler, by=request.user)
            except RefusedError as refused:
                for line in str(refused).splitlines():
                    messages.error(request, line)
            else:
                _told(request, "The name is taken out. The results stand.", carried)
                return redirect("people", club.slug)
    context = {"angler": angler, "typed": typed, "slip": slip, "reasons": still_to_come(angler)}
    return render(request, "people/erase.html", context)


@for_officers
@never_cache
@require_safe
def person_data(request: HttpRequest, slug: str, angler_id: int) -> HttpResponse:
    """Everything that is kept of one angler, to be handed to that person."""
    _, angler = _angler(request, slug, angler_id)
    return _file(as_json(angler), slugify(angler.name))


@for_members
@never_cache
@require_safe
def own_data(request: HttpRequest) -> HttpResponse:
    """Everything that is kept of whoever is signed in, in every club, as one file."""
    return _file(as_json_of_user(request.user), "my-data")


def _file(text: str, name: str) -> HttpResponse:
    return HttpResponse(
        text,
        content_type="application/json; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name or "angler"}.json"'},
    )


def _angler(request: HttpRequest, slug: str, angler_id: int) -> tuple[Club, Angler]:
    club = at_club(request, club_kept_by(request.user, slug))
    return club, get_object_or_404(Angler.objects.of(club), pk=angler_id)


def _record(request: HttpRequest, club: Club, angler: Angler, **bound: Any) -> HttpResponse:
    """The page of one record; a form that could not be used comes back as it was filled in."""
    people = _people(club, angler)
    context = {
        "angler": angler,
        "form": AnglerForm(initial=_initial(angler)),
        "merge": _merge_form(club, angler, None),
        "sign_in": SignInForm(people=people, initial={"user": angler.user_id or ""}),
    }
    return render(request, "people/person.html", context | bound)


def _people(club: Club, angler: Angler) -> dict[str, User]:
    """Who signs in for the club and is no angler yet; and whoever this angler is already."""
    taken = {each.user_id for each in Angler.objects.of(club)} - {angler.user_id}
    found = {office.user for office in Office.objects.of(club)} | {angler.user} - {None}
    people = [user for user in found if user is not None and user.pk not in taken]
    return {str(user.pk): user for user in sorted(people, key=lambda user: user.get_username())}


def _initial(angler: Angler) -> dict[str, Any]:
    record = about(angler)
    return {name: getattr(record, name) for name in AnglerForm.base_fields}


def _merge_form(club: Club, angler: Angler, data: Any) -> MergeForm:
    return MergeForm(data, others=Angler.objects.of(club).but(angler))


def _told(request: HttpRequest, said: str, carried: Carried) -> None:
    """What was done, how far it went, and where somebody must look by hand."""
    if carried.versions:
        results = so_many(carried.versions, "published result")
        said = f"{said} The name was put otherwise in {results}; no figure moved."
    messages.success(request, said)
    for each in carried.shared:
        messages.warning(
            request,
            f"{each}: another angler has the same name, so sentences there were left as they "
            "are. Look at them.",
        )
