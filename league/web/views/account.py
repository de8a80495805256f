"""One's own door: signing in, a new password, being asked in, signing out everywhere."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login, update_session_auth_hash
from django.contrib.auth.tokens import default_token_generator
from django.contrib.auth.views import (
    LoginView,
    LogoutView,
    PasswordResetConfirmView,
    PasswordResetDoneView,
)
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Invitation, Office
from league.operations.doors import invitation_for, new_person, take_up
from league.operations.errors import RefusedError
from league.operations.sign_ins import log, sessions_of, sign_out_everywhere
from league.operations.throttle import LINKS_PLACE, knocked, shut_until
from league.rules.figures import so_many
from league.web.access import EVERYBODY, HAVE_A_DESK, HOLDERS, for_members, open_to
from league.web.forms.doors import (
    ChangeForm,
    ForgottenForm,
    NewForm,
    SignInForm,
    TakeUpForm,
    shut_words,
)
from league.web.forms.publish import slips
from league.web.place import place_of

BACKEND = settings.AUTHENTICATION_BACKENDS[0]

sign_in = open_to(EVERYBODY)(LoginView.as_view(authentication_form=SignInForm))


@open_to(EVERYBODY)
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session, and what the browser has kept of its pages; unsent weights stay."""
    response = LogoutView.as_view()(request)
    response["Clear-Site-Data"] = '"cache"'
    return response


@open_to(EVERYBODY)
@never_cache
@require_http_methods(["GET", "POST"])
def forgotten(request: HttpRequest) -> HttpResponse:
    """Ask for a letter with a link that sets a new password."""
    form = ForgottenForm(request.POST or None, place=place_of(request))
    if request.method == "POST" and form.is_valid():
        form.save(
            request=request,
            use_https=request.is_secure(),
            email_template_name="doors/forgotten.txt",
            subject_template_name="doors/forgotten_subject.txt",
        )
        return redirect("forgotten-sent")
    return render(request, "doors/forgotten.html", {"form": form})


forgotten_sent = open_to(EVERYBODY)(
    PasswordResetDoneView.as_view(template_name="doors/forgotten_sent.html")
)
forgotten_new = open_to(HOLDERS)(
    PasswordResetConfirmView.as_view(
        template_name="doors/forgotten_new.html",
        form_class=NewForm,
        success_url=reverse_lazy("account"),
        post_reset_login=True,
        post_reset_login_backend=BACKEND,
        token_generator=default_token_generator,
    )
)


@for_members
@never_cache
@require_safe
def account(request: HttpRequest) -> HttpResponse:
    """Who one is here, what one may do, and where one is signed in."""
    return _account(request, ChangeForm(request.user))


@for_members
@never_cache
@sensitive_post_parameters()
@require_POST
def change_password(request: HttpRequest) -> HttpResponse:
    """A new password ends every other session."""
    form = ChangeForm(request.user, request.POST)
    if not form.is_valid():
        return _account(request, form)
    update_session_auth_hash(request, form.save())
    log.info("password changed: user %s", request.user.pk)
    messages.success(request, "The password is changed. Every other place is signed out.")
    return redirect("account")


@for_members
@require_POST
def everywhere(request: HttpRequest) -> HttpResponse:
    """Sign out everywhere but here."""
    ended = sign_out_everywhere(
        request.user, by=request.user, but=request.session.session_key or ""
    )
    places = so_many(ended, "other place")
    messages.success(request, f"Signed out of {places}. Here you are still signed in.")
    return redirect("account")


@open_to(HOLDERS)
@never_cache
@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def invited(request: HttpRequest, secret: str) -> HttpResponse:
    """Take up an invitation, as somebody who signs in already or as somebody new."""
    doors = [(LINKS_PLACE, place_of(request))]
    if until := shut_until(doors):
        return render(request, "doors/invited.html", {"refused": shut_words(until)}, status=429)
    try:
        invitation = invitation_for(secret)
    except RefusedError as refused:
        knocked(doors)
        return render(request, "doors/invited.html", {"refused": str(refused)}, status=404)
    form = TakeUpForm(request.POST or None, initial=_known(invitation))
    if request.method == "POST":
        try:
            if request.user.is_authenticated:
                take_up(invitation, request.user)
            elif form.is_valid():
                user = new_person(invitation=invitation, **form.cleaned_data)
                login(request, user, backend=BACKEND)
            else:
                return _invited(request, invitation, form)
        except RefusedError as refused:
            if request.user.is_authenticated:
                messages.error(request, str(refused))
                return redirect("account")
            form.add_error(None, slips(refused))
            return _invited(request, invitation, form)
        messages.success(request, f"You are in. {invitation.club.name} is below.")
        return redirect("account")
    return _invited(request, invitation, form)


def _invited(request: HttpRequest, invitation: Invitation, form: TakeUpForm) -> HttpResponse:
    return render(request, "doors/invited.html", {"invitation": invitation, "form": form})


def _known(invitation: Invitation) -> dict[str, Any]:
    first = invitation.name.partition(" ")[0].casefold()
    return {"name": invitation.name, "username": first, "email": invitation.email}


def _account(request: HttpRequest, form: ChangeForm) -> HttpResponse:
    clubs: dict[Any, list[Office]] = {}
    for office in Office.objects.of_user(request.user):
        clubs.setdefault(office.club, []).append(office)
    lines = [
        (club, held, any(each.name in HAVE_A_DESK for each in held)) for club, held in clubs.items()
    ]
    context = {"form": form, "clubs": lines, "places": len(list(sessions_of(request.user)))}
    return render(request, "doors/account.html", context)
