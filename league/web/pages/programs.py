"""A member's own addresses for programs, as they are pasted into them."""

from __future__ import annotations

from collections.abc import Iterable

from django.http import HttpRequest
from django.urls import reverse

from league.models import League, Subscription
from league.operations.subscriptions import token_of


def own_addresses(
    request: HttpRequest, held: Subscription, leagues: Iterable[League]
) -> list[tuple[str, str]]:
    """What each address brings, and the whole address."""
    token = token_of(held)
    named: list[tuple[str, str, list[int]]] = [
        ("Every match of the club", "own-calendar", []),
        ("Every result of the club", "own-feed", []),
    ]
    for league in leagues:
        named.append((f"The matches of the {league.name}", "own-league-calendar", [league.pk]))
        named.append((f"The results of the {league.name}", "own-league-feed", [league.pk]))
    return [
        (said, request.build_absolute_uri(reverse(name, args=[token, *rest])))
        for said, name, rest in named
    ]
