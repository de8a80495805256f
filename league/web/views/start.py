"""The first run: four questions on two short pages, and the club is ready for a match."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from league.operations.errors import RefusedError
from league.operations.first_run import Person, begin, is_first_run, opens
from league.web.access import HOLDERS, open_to
from league.web.forms.doors import TakeUpForm
from league.web.forms.planning import refuse
from league.web.forms.seasons import season_of
from league.web.forms.start import FirstForm, KeyForm
from league.web.pages.said_bank import said_bank
from league.web.views.venues import drawn

BACKEND = settings.AUTHENTICATION_BACKENDS[0]


@open_to(HOLDERS)
@sensitive_post_parameters("password")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def start(request: HttpRequest) -> HttpResponse:
    """
    Ask for club, water and league; show the bank as it was understood; ask who is there.

    Nothing is written before the last answer. Only whoever has the key from the server's screen
    gets this far, and nobody once there is a club or a person.
    """
    key = _key(request)
    if key is None:
        return _ask_for_key(request)
    today = timezone.localdate()
    step = request.POST.get("step", "")
    form = FirstForm(
        request.POST if step else None, initial={"season": season_of(today), "starts": today}
    )
    if not step or not form.is_valid() or step == "again":
        return render(request, "start/questions.html", {"form": form, "key": key})
    who = TakeUpForm(request.POST if step == "who" else None)
    if step == "who" and who.is_valid():
        told = form.cleaned_data
        try:
            begun = begin(
                club=told["club"],
                water=told["water"],
                pegs=told["pegs"],
                league=told["league"],
                season=told["season"],
                starts=told["starts"],
                book=form.book_made,
                person=Person(**who.cleaned_data),
            )
        except RefusedError as refused:
            refuse(who, refused)
        else:
            login(request, begun.user, backend=BACKEND)
            messages.success(request, f"{begun.club} is set up. Next come the teams.")
            return redirect("desk-season", begun.club.slug, begun.season.pk)
    context = {
        "form": form,
        "who": who,
        "key": key,
        "bank": said_bank(form.cleaned_data["pegs"]),
        "book": form.book_made,
    }
    return render(request, "start/who.html", context)


@open_to(HOLDERS)
@never_cache
@require_POST
def look(request: HttpRequest) -> HttpResponse:
    """The bank drawn while it is being said, for whoever has the key."""
    if _key(request) is None:
        raise Http404("The key is missing.")
    return drawn(request)


def _key(request: HttpRequest) -> str | None:
    """The key that came along, if it opens the first run; no page at all once that is over."""
    if not is_first_run():
        raise Http404("This site has its club already.")
    key = request.POST.get("key") or request.GET.get("key") or ""
    return key if key and opens(key) else None


def _ask_for_key(request: HttpRequest) -> HttpResponse:
    tried = request.method == "POST" or "key" in request.GET
    form = KeyForm(request.POST if request.method == "POST" else None)
    if tried and (request.method != "POST" or form.is_valid()):
        form = KeyForm({"key": ""})
        form.is_valid()
        form.errors["key"] = form.error_class(
            ["That is not the key. Look at the server’s screen again."]
        )
    return render(request, "start/key.html", {"form": form}, status=403 if tried else 200)
