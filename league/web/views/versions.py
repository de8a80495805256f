"""The versions of a result: which there are, and what each of them moved."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.models import Result
from league.web import access
from league.web.pages import versions as page
from league.web.pages.standings import rules_url
from league.web.published import for_every_stranger, kept, stamp
from league.web.views.result import result_for


@require_safe
@access.for_readers
def versions(request: HttpRequest, match_id: int) -> HttpResponse:
    """Every version, newest first."""
    return for_every_stranger(
        request,
        lambda: Result.objects.seal(match_id, None),
        lambda: _list(request, result_for(request, match_id, None)),
    )


@require_safe
@access.for_readers
def moved(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """What one version moved, in sentences; whose money, to whoever keeps it."""
    if request.user.is_authenticated:
        found = result_for(request, match_id, version)
        if _keeps_the_money(request, found) and (money := page.money_part(found)):
            response = _moved(request, found, money)
            response["Cache-Control"] = "private, no-store"
            return response
    return for_every_stranger(
        request,
        lambda: Result.objects.seal(match_id, version),
        lambda: _moved(request, result_for(request, match_id, version)),
    )


def _keeps_the_money(request: HttpRequest, result: Result) -> bool:
    held = access.offices_of(request.user, result.match.club)
    return not held.isdisjoint(access.SEES_THE_MONEY)


def _list(request: HttpRequest, newest: Result) -> HttpResponse:
    matter = kept(
        "result/_versions.html",
        f"{stamp(newest)}",
        lambda: {"result": newest, "versions": page.told(list(Result.objects.of(newest.match)))},
    )
    return _shown(request, newest, matter, "versions")


def _moved(request: HttpRequest, found: Result, money: page.Part | None = None) -> HttpResponse:
    matter = kept(
        "result/_moved.html",
        f"{stamp(found)} of {found.in_force}",
        lambda: page.matter(found, list(Result.objects.of(found.match))),
    )
    return _shown(request, found, matter, f"what version {found.version} moved", money)


def _shown(
    request: HttpRequest, result: Result, matter: str, what: str, money: page.Part | None = None
) -> HttpResponse:
    context = {
        "result": result,
        "money": money,
        "matter": matter,
        "title": f"{result.match.title}, {result.match.water}: {what}",
        "rules_url": rules_url(result.match.season),
    }
    return render(request, "result/told.html", context)
