"""Who may send from the bank: passes, shown once as a code and taken back; phones heard of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from league.models import Match, Phone, ScalesPass, WeighIn
from league.operations.board import show_board
from league.operations.errors import RefusedError
from league.operations.passes import make_pass, revoke_pass, revoke_phone, walk_of_pass
from league.web.access import for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.passes import PassForm
from league.web.qr import code_of
from league.web.walk import walk_of

WRONG_CLOCK = 120  # seconds that are worth a word


@dataclass(frozen=True, slots=True)
class PhoneLine:
    """One phone as the secretary sees it."""

    phone: Phone
    in_force: bool
    numbers: frozenset[int]  # of its own count, those that have come in
    counted_twice: bool

    @property
    def remarks(self) -> list[str]:
        """What somebody should know about it, a sentence each."""
        found = []
        if self.phone.waiting:
            found.append(f"Said it had {self.phone.waiting} still to send.")
        missing = self.phone.last_seq - len([n for n in self.numbers if n <= self.phone.last_seq])
        if missing > self.phone.waiting:
            found.append(f"{missing} of its {self.phone.last_seq} entries have not come in.")
        if self.counted_twice:
            found.append("It used a number twice, as a phone put back from a copy does.")
        if abs(self.phone.clock_skew) > WRONG_CLOCK:
            found.append("Its clock is wrong: go by when its weights came in.")
        return found


@for_officers
@never_cache
@require_http_methods(["GET", "POST"])
def passes(request: HttpRequest, match_id: int) -> HttpResponse:
    """The passes of a match and the phones that came in by them; a new one shows its code once."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    letters = [section.letter for section in match.sections.all()]
    form = PassForm(request.POST if request.method == "POST" else None, letters=letters)
    new = {}
    if request.method == "POST" and form.is_valid():
        try:
            made, secret = make_pass(
                match, name=form.cleaned_data["name"], walk=form.walk, by=request.user
            )
        except RefusedError as refused:
            form.add_error(None, str(refused))
        else:
            page = request.build_absolute_uri(reverse("scales-phone", args=[match.pk]))
            # After the #, so that it stays out of logs and of what other sites are told.
            link = f"{page}#pass={secret}"
            new = {"made": made, "link": link, "code": code_of(link)}
            form = PassForm(letters=letters)
    return render(request, "scales/passes.html", _shown(match, form) | {"new": new})


@for_officers
@require_POST
def take_back(request: HttpRequest, match_id: int, pass_id: int) -> HttpResponse:
    """Take a pass back, and every phone with it."""
    match = match_run_by(request.user, match_id)
    scales_pass = get_object_or_404(ScalesPass.objects.of(match), pk=pass_id)
    try:
        revoke_pass(scales_pass, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{scales_pass.name} can send no more. What they sent stays.")
    return redirect("scales-passes", match.pk)


@for_officers
@require_POST
def stop_phone(request: HttpRequest, match_id: int, phone_id: int) -> HttpResponse:
    """Stop one phone alone."""
    match = match_run_by(request.user, match_id)
    phone = get_object_or_404(Phone.objects.of(match), pk=phone_id)
    revoke_phone(phone, by=request.user)
    messages.success(request, f"{phone.name} can send no more. What it sent stays.")
    return redirect("scales-passes", match.pk)


@for_officers
@require_POST
def board_on_or_off(request: HttpRequest, match_id: int) -> HttpResponse:
    """Show the weigh-in as it comes, or stop showing it."""
    match = match_run_by(request.user, match_id)
    show_board(match, "show" in request.POST, by=request.user)
    return redirect("scales-passes", match.pk)


def _shown(match: Match, form: PassForm) -> dict[str, Any]:
    now = timezone.now()
    numbers, twice = WeighIn.objects.numbers_of(match), WeighIn.objects.counted_twice(match)
    lines = [
        PhoneLine(
            phone, phone.in_force(now), frozenset(numbers.get(phone.pk, ())), phone.pk in twice
        )
        for phone in Phone.objects.of(match)
    ]
    stops = walk_of(match)
    return {
        "match": match,
        "form": form,
        "pegs": len(stops),
        "letters": sorted({stop.letter for stop in stops}),
        "passes": [
            (each, each.in_force(now), walk_of_pass(each).words)
            for each in ScalesPass.objects.of(match)
        ],
        "phones": lines,
    }
