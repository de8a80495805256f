"""The club's offices: who holds which, given and taken, asked in; and its journal."""

from __future__ import annotations

from dataclasses import dataclass, field

from django.contrib import messages
from django.contrib.auth.models import User
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Act, Angler, Club, Invitation, Office
from league.operations import mail
from league.operations.doors import give_office, invite, take_invitation_back, take_office
from league.operations.errors import RefusedError
from league.operations.sign_ins import sign_out_everywhere
from league.rules.figures import so_many
from league.web.access import HAVE_A_DESK, club_kept_by, club_of_officer, for_officers
from league.web.context import at_club
from league.web.forms.doors import GiveForm, InviteForm
from league.web.forms.publish import slips

A_PAGE = 50  # lines of the journal
LATEST = 20  # invitations


@dataclass(slots=True)
class Holder:
    """One person and what they hold."""

    user: User
    offices: list[Office] = field(default_factory=list)


@for_officers
@never_cache
@require_http_methods(["GET", "POST"])
def offices(request: HttpRequest, slug: str) -> HttpResponse:
    """Who holds which office; a POST gives one more."""
    club = club_kept_by(request.user, slug)
    if request.method != "POST":
        return _page(request, club)
    form = GiveForm(request.POST, people=_people(club))
    if form.is_valid():
        try:
            office = give_office(club, form.person, form.cleaned_data["name"], by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"Given: {office.get_name_display().lower()}.")
            return redirect("offices", club.slug)
    return _page(request, club, give=form)


@for_officers
@require_POST
def take(request: HttpRequest, slug: str, office_id: int) -> HttpResponse:
    """Take an office back."""
    club = club_kept_by(request.user, slug)
    office = get_object_or_404(Office.objects.of(club), pk=office_id)
    try:
        take_office(office, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, "Taken back. What it opened is shut from now on.")
    return _back(request, club)


@for_officers
@require_POST
def sign_out_person(request: HttpRequest, slug: str, user_id: int) -> HttpResponse:
    """End every session of somebody of the club: a phone is lost, say."""
    club = club_kept_by(request.user, slug)
    user = next((each for each in _people(club) if each.pk == user_id), None)
    if user is None:
        raise Http404("Nobody of this club signs in like that.")
    but = request.session.session_key or "" if user == request.user else ""
    ended = sign_out_everywhere(user, by=request.user, but=but)
    messages.success(request, f"Signed out of {so_many(ended, 'place')}.")
    return redirect("offices", club.slug)


@for_officers
@never_cache
@require_POST
def ask_in(request: HttpRequest, slug: str) -> HttpResponse:
    """Ask somebody in: by e-mail where there is an address, else the link is shown once."""
    club = club_kept_by(request.user, slug)
    form = InviteForm(request.POST)
    if form.is_valid():
        try:
            made, secret = invite(club, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            link = request.build_absolute_uri(reverse("invited", args=[secret]))
            said = _send(club, made, link, request.user) if made.email else ""
            return _page(request, club, new={"made": made, "link": link, "said": said})
    return _page(request, club, invite=form)


@for_officers
@require_POST
def take_back(request: HttpRequest, slug: str, invitation_id: int) -> HttpResponse:
    """End an invitation."""
    club = club_kept_by(request.user, slug)
    invitation = get_object_or_404(Invitation.objects.of(club), pk=invitation_id)
    try:
        take_invitation_back(invitation, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"The link of {invitation.name} opens nothing any more.")
    return redirect("offices", club.slug)


@for_officers(*HAVE_A_DESK)
@require_safe
def journal(request: HttpRequest, slug: str) -> HttpResponse:
    """Everything that was done in the club, newest first, a page at a time."""
    club = at_club(request, club_of_officer(request.user, slug))
    page = Paginator(Act.objects.of(club), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "doors/journal.html", {"page": page})


def _page(request: HttpRequest, club: Club, **more: object) -> HttpResponse:
    at_club(request, club)
    now = timezone.now()
    holders: dict[int, Holder] = {}
    for office in Office.objects.of(club):
        holders.setdefault(office.user_id, Holder(office.user)).offices.append(office)
    context = {
        "holders": holders.values(),
        "invitations": [
            (each, each.in_force(now)) for each in Invitation.objects.of(club)[:LATEST]
        ],
        "give": GiveForm(people=_people(club), auto_id="give_%s"),
        "invite": InviteForm(auto_id="invite_%s"),
    }
    return render(request, "doors/offices.html", context | more)


def _people(club: Club) -> list[User]:
    """Everybody of the club who can sign in, once."""
    found = {office.user_id: office.user for office in Office.objects.of(club)}
    for angler in Angler.objects.who_sign_in(club):
        if angler.user is not None:
            found.setdefault(angler.user.pk, angler.user)
    return list(found.values())


def _send(club: Club, invitation: Invitation, link: str, by: User) -> str:
    text = render_to_string(
        "doors/invitation.txt", {"club": club, "invitation": invitation, "link": link}
    )
    try:
        return mail.send(club, f"{club.name} asks you in", text, [invitation.email], by=by).words
    except RefusedError as refused:
        return str(refused)


def _back(request: HttpRequest, club: Club) -> HttpResponse:
    """To the offices, or where somebody has just given up their own to the front page."""
    if Club.objects.held_by(request.user, "secretary").contains(club):
        return redirect("offices", club.slug)
    return redirect("club", club.slug)
