"""The secretary's screen of a match: what comes next, who is in, the pegs, and the page itself."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from league.models import (
    Act,
    Decision,
    Entry,
    Match,
    MatchPeg,
    Office,
    OfficeName,
    Peg,
    Reserve,
    Result,
    Stage,
)
from league.operations.draw import late_entry
from league.operations.errors import RefusedError
from league.operations.facts import say_decision
from league.operations.lineup import book_in, choose_section, withdraw
from league.operations.score import book_of, changed_since, gaps_in
from league.operations.sections import make_sections
from league.operations.store import writing
from league.rules.figures import counted
from league.rules.pools_plan import STAKE
from league.rules.stages import Task, next_thing
from league.rules.weights import Unit
from league.web.access import for_officers, match_run_by
from league.web.bank import left_out
from league.web.context import at_club
from league.web.days import day_of
from league.web.forms.lineup import BookInForm, PlacesForm
from league.web.forms.pegs import SectionsForm
from league.web.forms.publish import DecideForm, slips
from league.web.forms.weigh import SettleForm
from league.web.money_tasks import where
from league.web.pages.run_day import run_lines, running
from league.web.tasks import button_for
from league.web.views.match import by_section
from league.web.walk import walk_of

LATEST = 12  # lines of the journal on the screen
A_PAGE = 50  # and on a page of it


@for_officers
@require_safe
def run(request: HttpRequest, match_id: int) -> HttpResponse:
    """One next thing in orange, and everything else of the day below it."""
    return run_page(request, match_run_by(request.user, match_id))


@for_officers
@require_POST
def enter(request: HttpRequest, match_id: int) -> HttpResponse:
    """Book an angler in."""
    match = match_run_by(request.user, match_id)
    form = BookInForm(request.POST, match=match)

    def act() -> str:
        if match.is_drawn:
            late_entry(match, by=request.user, **form.entry())
            return "Booked in late. The callers call new numbers on the draw page."
        entry = book_in(match, by=request.user, **form.entry())
        return f"{entry.angler} is booked in as {entry.number}."

    return done(request, match, form, act) or run_page(request, match, book_in=form)


@for_officers
@require_POST
def places(request: HttpRequest, match_id: int) -> HttpResponse:
    """Say which section every member of a team fishes."""
    match = match_run_by(request.user, match_id)
    form = _places_form(match, list(Entry.objects.of(match).in_booking_order()), request.POST)

    def act() -> str:
        chosen = {e: section for e, section in form.places.items() if section != e.section}
        with writing():
            # Out of every section first: two may change places.
            for entry in chosen:
                if entry.section_id:
                    choose_section(entry, None, by=request.user)
            for entry, section in chosen.items():
                if section:
                    choose_section(entry, section, by=request.user)
        return "The sections are chosen."

    return done(request, match, form, act) or run_page(request, match, places=form)


@for_officers
@require_POST
def take_out(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Take an angler off the line-up."""
    match = match_run_by(request.user, match_id)
    entry = get_object_or_404(Entry.objects.of(match).with_names(), pk=entry_id)
    try:
        withdraw(entry, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{entry.angler} is withdrawn.")
        if up := Reserve.objects.in_place_of(entry):
            messages.success(request, f"{up.angler} moves up from the waiting list. Tell them.")
    return redirect("match-run", match.pk)


@for_officers
@require_POST
def sections(request: HttpRequest, match_id: int) -> HttpResponse:
    """Choose the pegs and cut them into sections."""
    match = match_run_by(request.user, match_id)
    form = SectionsForm(request.POST, match=match, bank=list(Peg.objects.along(match.water)))

    def act() -> str:
        made = make_sections(match, by=request.user, **form.cleaned_data)
        return f"{counted(len(made), 'section').capitalize()} made."

    return done(request, match, form, act) or run_page(request, match, sections=form)


@for_officers
@require_safe
def journal(request: HttpRequest, match_id: int) -> HttpResponse:
    """Everything that was done about the match, newest first, a page at a time."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    pages = Paginator(Act.objects.on(match), A_PAGE)
    page = pages.get_page(request.GET.get("page"))
    return render(request, "run/journal.html", {"match": match, "page": page})


def done(
    request: HttpRequest, match: Match, form: forms.Form, act: Callable[[], str]
) -> HttpResponse | None:
    """Do what a good form asks for; None where it has a slip or was refused, and says so."""
    if not form.is_valid():
        return _not_done(request, form)
    try:
        said = act()
    except RefusedError as refused:
        form.add_error(None, slips(refused))
        return _not_done(request, form)
    messages.success(request, said)
    return redirect("match-run", match.pk)


def _not_done(request: HttpRequest, form: forms.Form) -> None:
    """Say the first slip at the top too: the form it stands at may be far down the screen."""
    first = next(slip for found in form.errors.values() for slip in found)
    messages.error(request, f"Nothing is changed. {first}")


def run_page(request: HttpRequest, match: Match, **bound: Any) -> HttpResponse:
    """The whole screen; a form that could not be used comes back as it was filled in."""
    at_club(request, match.club)
    booked = list(Entry.objects.of(match).in_booking_order())
    walk = walk_of(match)
    used = list(MatchPeg.objects.of(match))
    bank = list(Peg.objects.along(match.water))
    results = list(Result.objects.of(match))
    newest = results[0] if results else None
    changed = changed_since(newest) if newest else []
    fished = [each for each in used if not each.closed_why]
    day = day_of(
        match, booked=len(booked), pegs=len(fished), walk=walk, newest=newest, changed=bool(changed)
    )
    thing = next_thing(day)
    now = running(match, day, booked=booked, used=used, walk=walk, results=results)
    unit = Unit(match.unit)
    acts = list(Act.objects.on(match)[: LATEST + 1])
    context: dict[str, Any] = {
        "match": match,
        "day": day,
        "thing": thing,
        "button": button_for(thing, match, walk),
        "booked": booked,
        "walk": by_section(walk),
        "weighed": sum(stop.weighed for stop in walk),
        "pegs": len(walk),
        "to_weigh": [stop for stop in walk if not stop.weighed],
        "in_question": [stop for stop in walk if stop.standing.in_question],
        "settle": SettleForm(),
        "runs": _runs(used),
        "left_out": left_out(bank, used, match.date),
        "results": results,
        "newest": newest,
        "changed": changed,
        "open": gaps_in(newest) if newest else [],
        "decisions": [
            (each, say_decision(each, unit)) for each in Decision.objects.in_force(match)
        ],
        "acts": acts[:LATEST],
        "more_acts": len(acts) > LATEST,
        "book_in": BookInForm(match=match),
        "sections": SectionsForm(match=match, bank=bank, initial=_usual(match, used)),
        "decide": DecideForm(match=match, auto_id="decide_%s"),
        "booking": not match.is_drawn and not day.cancelled,
        "late": match.stage == Stage.DRAWN,
        "places": _places_form(match, booked, None),
        "placed": all(entry.section_id for entry in booked if entry.team_id),
        "may_wait": thing.task is Task.WAIT,
        "lines": run_lines(now),
        "today": day.now.date() == match.date,
        "account": now.account,
        "money": now.money,
        "money_where": where(now.money, match),
        "paid_stakes": sum(due.paid for due in now.account.dues if due.what == STAKE),
        "to_pay": {due.entry.pk for due in now.account.outstanding},
        "others": _others(match, request.user),
    }
    return render(request, "run/run.html", context | bound)


def _others(match: Match, user: Any) -> list[str]:
    """Who else can take over at any moment: the club's other secretaries."""
    held = Office.objects.of(match.club).called(OfficeName.SECRETARY)
    return [
        office.user.get_full_name() or str(office.user) for office in held if office.user != user
    ]


def _places_form(match: Match, booked: list[Entry], data: Any) -> PlacesForm | None:
    """Only where there are teams, sections, and no draw yet."""
    made = list(match.sections.all())
    in_teams = [entry for entry in booked if entry.team_id]
    if match.is_drawn or not made or not in_teams:
        return None
    return PlacesForm(data, entries=in_teams, sections=made, per_section=match.per_section)


def _runs(used: list[MatchPeg]) -> dict[str, list[str]]:
    """The pegs of every section, by letter."""
    runs: dict[str, list[str]] = {}
    for each in used:
        runs.setdefault(each.section.letter, []).append(each.peg.number)
    return runs


def _usual(match: Match, used: list[MatchPeg]) -> dict[str, int]:
    """As many sections as there are now; to begin with, one for each member a team has in one."""
    if used:
        return {"count": len({each.section_id for each in used})}
    team = book_of(match).team
    return {"count": team.size // match.per_section if match.season else 1}
