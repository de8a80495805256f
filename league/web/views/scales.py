"""The scales: the walk along the bank, one peg to a screen, and two figures for one peg."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Match, OfficeName, WeighIn
from league.operations.errors import RefusedError
from league.operations.guard import today_at
from league.operations.score import book_of
from league.operations.weigh import record_weigh_in, settle
from league.rules.doubts import Doubt, doubts_about, shortly
from league.rules.nets import NetRules
from league.rules.weights import OUNCES_IN_POUND, Unit, spoken, written
from league.web.access import WORKS_THE_SCALES, for_officers, match_at_scales
from league.web.context import at_club, offices
from league.web.forms.weigh import FEWEST_BOXES, SettleForm, WeighForm
from league.web.walk import Stop, next_stop, say, strip_of_walk, walk_of

# Offered beside an empty box, so that a reason is one press with cold hands.
REASONS = (
    "The paper sheet says so.",
    "The angler agreed the other figure.",
    "Weighed again in front of both.",
)


@dataclass(frozen=True, slots=True)
class AtPeg:
    """One peg of the walk with all that its screens need."""

    match: Match
    walk: Sequence[Stop]
    stop: Stop
    net: NetRules
    unit: Unit

    @property
    def then(self) -> Stop | None:
        """Where the scales go from here."""
        return next_stop(self.walk, self.stop.entry)


@for_officers(*WORKS_THE_SCALES)
@require_safe
def walk(request: HttpRequest, match_id: int) -> HttpResponse:
    """Every peg along the bank: what is weighed, what is not, where to go next."""
    match = match_at_scales(request.user, match_id)
    at_club(request, match.club)
    stops = walk_of(match)
    sections: dict[str, list[Stop]] = {}
    for stop in stops:
        sections.setdefault(stop.letter, []).append(stop)
    return render(
        request,
        "scales/walk.html",
        {
            "match": match,
            "sections": sections,
            "pegs": len(stops),
            "weighed": sum(stop.weighed for stop in stops),
            "in_question": [stop for stop in stops if stop.standing.in_question],
            "next": next((stop for stop in stops if not stop.weighed), None),
            "strip": strip_of_walk(stops, Unit(match.unit)) if stops else None,
            "is_secretary": OfficeName.SECRETARY in offices(request, match.club),
        },
    )


@for_officers(*WORKS_THE_SCALES)
@require_http_methods(["GET", "POST"])
def weigh(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Weigh one peg; ask where something looks wrong, then save and go to the next."""
    at = _at_peg(request, match_id, entry_id)
    if request.method != "POST":
        if at.stop.standing.in_question and "again" not in request.GET:
            return _two_figures(request, at, SettleForm())
        if at.stop.weighed and "again" not in request.GET:
            return render(request, "scales/weighed.html", _about(at))
        return _pad(request, at, WeighForm(unit=at.unit))
    boxes = max(FEWEST_BOXES, len(request.POST.getlist("nets")))
    form = WeighForm(request.POST, unit=at.unit, boxes=boxes + ("more" in request.POST))
    answer = request.POST.get("answer", "")
    if "more" in request.POST or answer in {"two nets", "again"}:
        return _pad(request, at, form, opens=answer, asked=request.POST.get("net", ""))
    if not form.is_valid():
        return _pad(request, at, form)
    nets = form.cleaned_data["nets"]
    bank = [stop.entry for stop in at.walk]
    today = today_at(at.match, at.stop.entry, bank) if nets else None
    for doubt in doubts_about(nets, at.net, at.unit, today):
        if doubt.key not in form.cleaned_data["agreed"].split():
            return _ask(request, at, form, doubt)
    return _save(request, at, form)


@for_officers(*WORKS_THE_SCALES)
@require_POST
def stand(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Say which of two figures stands; the other stays on record with its reason."""
    at = _at_peg(request, match_id, entry_id)
    form = SettleForm(request.POST)
    if form.is_valid():
        weigh_in = next(
            (each for each, _ in at.stop.figures if each.pk == form.cleaned_data["keep"]), None
        )
        try:
            if weigh_in is None:
                raise RefusedError("That figure does not stand any more. Look again.")
            settle(weigh_in, why=form.cleaned_data["why"], by=request.user)
        except RefusedError as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"Peg {at.stop.peg}: {say(weigh_in, at.unit)} stands.")
            return _onwards(at)
    return _two_figures(request, at, form)


def _save(request: HttpRequest, at: AtPeg, form: WeighForm) -> HttpResponse:
    data = form.cleaned_data
    try:
        recorded = record_weigh_in(
            at.stop.entry,
            key=data["key"],
            status=data["status"],
            nets=data["nets"],
            by=request.user,
        )
    except RefusedError as refused:
        # This key is used up or was refused: with the same one it would be refused for ever.
        form.data = form.data.copy()
        form.data["key"] = str(uuid4())
        form.add_error(None, str(refused))
        return _pad(request, at, form)
    said = say(recorded.weigh_in, at.unit)
    messages.success(request, f"Peg {at.stop.peg}, {at.stop.name}: {said}. Saved.")
    # Asked afresh: the other pair may have weighed this peg since the page was opened.
    standing = WeighIn.objects.for_entry(at.stop.entry).standing()
    if len({each.figure for each in standing}) > 1:
        return redirect("scales-weigh", at.match.pk, at.stop.entry.pk)
    return _onwards(at)


def _onwards(at: AtPeg) -> HttpResponse:
    if at.then is None:
        return redirect("scales", at.match.pk)
    return redirect("scales-weigh", at.match.pk, at.then.entry.pk)


def _at_peg(request: HttpRequest, match_id: int, entry_id: int) -> AtPeg:
    match = match_at_scales(request.user, match_id)
    at_club(request, match.club)
    stops = walk_of(match)
    here = next((stop for stop in stops if stop.entry.pk == entry_id), None)
    if here is None:
        raise Http404("Nobody with this entry is on the bank.")
    return AtPeg(match, stops, here, book_of(match).net, Unit(match.unit))


def _pad(
    request: HttpRequest, at: AtPeg, form: WeighForm, *, opens: str = "", asked: str = ""
) -> HttpResponse:
    """The keys, or the boxes where there is no script."""
    limit = at.net.limit
    return render(
        request,
        "scales/weigh.html",
        _about(at)
        | {
            "form": form,
            "opens": "new" if opens == "two nets" else asked if opens == "again" else "",
            "limit": limit,
            "limit_said": shortly(limit, at.unit) if limit is not None else "",
            "is_kg": at.unit is Unit.KG,
            "ounces": range(OUNCES_IN_POUND),
        },
    )


def _ask(request: HttpRequest, at: AtPeg, form: WeighForm, doubt: Doubt) -> HttpResponse:
    """One question, and nothing saved until it is answered."""
    nets = form.cleaned_data["nets"]
    return render(
        request,
        "scales/ask.html",
        _about(at)
        | {
            "form": form,
            "doubt": doubt,
            "reading": spoken(nets[doubt.net - 1], at.unit),
            "next_net": len(nets) + 1,
            "offer": [written(net, at.unit) for net in doubt.offer],
            "agrees": f"{form.cleaned_data['agreed']} {doubt.key}".strip(),
        },
    )


def _two_figures(request: HttpRequest, at: AtPeg, form: SettleForm) -> HttpResponse:
    figures = [
        {
            "pk": each.pk,
            "said": said,
            "by": each.by,
            "mine": each.weighed_by_id == request.user.pk,
            "at": each.received_at,
            "nets": len(each.nets),
        }
        for each, said in at.stop.figures
    ]
    return render(
        request,
        "scales/two.html",
        _about(at) | {"figures": figures, "form": form, "reasons": REASONS},
    )


def _about(at: AtPeg) -> dict[str, Any]:
    """What every screen of a peg shows."""
    place = next(n for n, stop in enumerate(at.walk, start=1) if stop is at.stop)
    return {
        "match": at.match,
        "stop": at.stop,
        "place": place,
        "pegs": len(at.walk),
        "weighed": sum(stop.weighed for stop in at.walk),
        "then": at.then,
        "strip": strip_of_walk(at.walk, at.unit, at.stop.entry),
        "is_new": not at.stop.weighed,
    }
