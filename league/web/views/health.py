"""How the installation is, for people and for a monitor; and what is kept of a person."""

from __future__ import annotations

from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from league.models import Club
from league.operations.club import days_of_backups
from league.operations.health import Part, look
from league.operations.tidy import KEPT
from league.web.access import EVERYBODY, RUNS_THE_DAY, club_for, for_readers, open_to
from league.web.context import at_club

DOWN = 503


@open_to(EVERYBODY)
@never_cache
@require_safe
def health(request: HttpRequest) -> HttpResponse:
    """In words. Numbers are for a match secretary; a stranger hears whether each part is well."""
    parts = look()
    if _is_down(parts):
        # Without the database there is no head of a page either.
        words = "\n".join(part.words for part in parts if not part.good)
        return HttpResponse(words + "\n", content_type="text/plain; charset=utf-8", status=DOWN)
    context = {"parts": parts, "good": _is_good(parts), "told_all": _is_told_all(request)}
    return render(request, "doors/health.html", context)


@open_to(EVERYBODY)
@never_cache
@require_safe
def as_json(request: HttpRequest) -> HttpResponse:
    """For a monitor: 503 where the site cannot work, else 200 and what to look at."""
    parts = look()
    down = _is_down(parts)
    told_all = not down and _is_told_all(request)
    said = {
        "good": _is_good(parts),
        "parts": {
            part.name: {"good": part.good, "words": part.words}
            | ({"detail": part.detail} if told_all else {})
            for part in parts
        },
    }
    return JsonResponse(said, status=DOWN if down else 200)


@for_readers
@require_safe
def kept(request: HttpRequest, slug: str) -> HttpResponse:
    """What is kept of a person, why and how long: the table that the daily round runs."""
    at_club(request, club_for(request.user, slug))
    return render(request, "doors/kept.html", {"kept": KEPT, "days_of_backups": days_of_backups()})


def _is_good(parts: list[Part]) -> bool:
    return all(part.good for part in parts)


def _is_down(parts: list[Part]) -> bool:
    return any(part.stops and not part.good for part in parts)


def _is_told_all(request: HttpRequest) -> bool:
    try:
        return bool(Club.objects.held_by(request.user, *RUNS_THE_DAY))
    except DatabaseError:
        return False
