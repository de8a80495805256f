"""From rows to the fields of the interface."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import time
from typing import Any

from django.http import HttpRequest
from django.urls import reverse

from league.files.plain import fraction
from league.models import Angler, Club, Match, Peg, Result, Season, SquadMember, Team, Water
from league.rules.weights import written
from league.web.pages.outings import Outing


def address(request: HttpRequest, page: str, *args: Any) -> str:
    """A page's whole address."""
    return request.build_absolute_uri(reverse(page, args=args))


def club(request: HttpRequest, each: Club) -> dict[str, Any]:
    """A club."""
    return {
        "slug": each.slug,
        "name": each.name,
        "public": each.public,
        "calendar": address(request, "club-calendar", each.slug),
        "feed": address(request, "club-feed", each.slug),
    }


def match(request: HttpRequest, each: Match) -> dict[str, Any]:
    """A match."""
    return {
        "id": each.pk,
        "name": each.title,
        "season_id": each.season_id,
        "league": each.season.league.name if each.season else None,
        "round": each.round,
        "venue": each.water.venue.name,
        "water": each.water.name,
        "water_id": each.water_id,
        "date": each.date,
        "book_in": _time(each.book_in),
        "draw_at": _time(each.draw_at),
        "all_in": _time(each.all_in),
        "all_out": _time(each.all_out),
        "unit": each.unit,
        "stage": each.stage,
        "moves": each.moves,
        "page": address(request, "match", each.pk),
    }


def result_head(request: HttpRequest, each: Result) -> dict[str, Any]:
    """A result without its figures."""
    return {
        "match_id": each.match_id,
        "match": each.match.title,
        "date": each.match.date,
        "water": each.match.water.name,
        "season_id": each.match.season_id,
        "round": each.match.round,
        "version": each.version,
        "state": each.state,
        "headline": each.headline,
        "published_at": each.published_at,
        "document": address(request, "api-1:result_version", each.match_id, each.version),
        "page": address(request, "result-version", each.match_id, each.version),
    }


def season(request: HttpRequest, each: Season) -> dict[str, Any]:
    """A season."""
    return {
        "id": each.pk,
        "league_id": each.league_id,
        "league": each.league.name,
        "name": each.name,
        "starts": each.starts,
        "planned_rounds": each.planned_rounds,
        "table": address(request, "api-1:table", each.pk),
        "page": address(request, "table", each.pk),
    }


def team(request: HttpRequest, each: Team, squad: Iterable[SquadMember]) -> dict[str, Any]:
    """A team and its *squad*, by the names that may be published."""
    return {
        "id": each.pk,
        "name": each.name,
        "season_id": each.season_id,
        "squad": [
            {
                "angler_id": member.angler_id,
                "name": member.angler.shown_name,
                "captain": member.captain,
            }
            for member in squad
        ],
        "page": address(request, "team", each.pk),
    }


def angler(request: HttpRequest, each: Angler) -> dict[str, Any]:
    """An angler by the name that may be published."""
    return {
        "id": each.pk,
        "name": each.shown_name,
        "page": address(request, "angler", each.pk),
    }


def outing(each: Outing) -> dict[str, Any]:
    """One match an angler fished."""
    line, held = each.line, each.match
    return {
        "match_id": held.pk,
        "match": held.title,
        "date": held.date,
        "water": held.water.name,
        "season_id": held.season_id,
        "round": held.round,
        "version": each.result.version,
        "section": line.row.section,
        "peg": line.row.peg,
        "team": line.row.team,
        "status": line.status.value,
        "weight": written(line.weight, each.unit),
        "unit": each.unit.value,
        "place": line.place,
        "equal": line.equal,
        "points": fraction(line.points),
    }


def water(request: HttpRequest, each: Water, pegs: Iterable[Peg]) -> dict[str, Any]:
    """A water with its *pegs*."""
    return {
        "id": each.pk,
        "name": each.name,
        "venue": each.venue.name,
        "pegs": [
            {
                "number": peg.number,
                "order": peg.order,
                "easy_access": peg.easy_access,
                "left_out": peg.left_out,
                "hazards": peg.hazards,
            }
            for peg in pegs
        ],
        "page": address(request, "water", each.pk),
    }


def _time(at: time | None) -> str | None:
    return None if at is None else f"{at:%H:%M}"
