"""What is about to be published: the page as members will see it, what is missing, who is told."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import mark_safe

from league.models import Entry, Match, Result
from league.operations import score
from league.operations.digest import who_asked
from league.operations.publish import as_it_would_be
from league.rules.figures import counted
from league.rules.lines import MatchResult
from league.rules.words import and_list, points_said
from league.web.pages import result as page
from league.web.pages.summary import summary


@dataclass(frozen=True, slots=True)
class Draft:
    """The version that publishing would make, and everything to know before it is."""

    result: Result
    page: str  # the result's own page, as everybody gets it
    short: list[str]  # teams without everybody, a sentence each
    readers: str  # who will be able to read it
    names: str  # whose names are not printed in full
    told: list[str]  # who has asked for an e-mail


def draft(match: Match, versions: list[Result]) -> Draft:
    """Work out what publishing *match* now would put on the page; nothing is kept."""
    result = as_it_would_be(match)
    worked = score.read(result)
    matter = page.matter(result, [result, *versions]) | {"preview": True}
    shown = render_to_string("result/_result.html", matter)
    return Draft(
        result=result,
        page=mark_safe(shown),  # noqa: S308 -- made by our own template, which escapes
        short=_short(worked),
        readers=_readers(match),
        names=_names(match),
        told=[str(angler) for angler in who_asked(match.club)],
    )


def letter_text(request: HttpRequest, result: Result) -> str:
    """The result as it goes out by e-mail, and how to stop it."""
    address = request.build_absolute_uri(
        reverse("result-version", args=[result.match_id, result.version])
    )
    club = result.match.club
    stop = request.build_absolute_uri(reverse("results-by-email", args=[club.slug]))
    return (
        f"{summary(result, address)}\n"
        f"You asked {club.name} for results by e-mail. To stop them: {stop}\n"
    )


def _short(worked: MatchResult) -> list[str]:
    said = []
    for team in worked.teams:
        missing = [f"section {line.row.section}, {points_said(line.points)}" for line in team.short]
        if missing:
            count = counted(len(missing), "angler")
            said.append(f"{team.team} are {count} short: {and_list(missing)}, as absent.")
    return said


def _readers(match: Match) -> str:
    if match.club.public:
        return "Everybody: the club’s pages are public."
    return "Members who sign in: the club’s pages are for members only."


def _names(match: Match) -> str:
    held_back = [
        entry.angler.shown_name
        for entry in Entry.objects.of(match).in_booking_order()
        if entry.angler.shown_name != entry.angler.name
    ]
    if not held_back:
        return "Every name is printed in full."
    return f"Not in full, for want of consent or by their own wish: {and_list(held_back)}."
