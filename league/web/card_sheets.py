"""From a match to what is cut out, and to the bailiff's plan of its bank."""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest

from league.models import Entry, Match, MatchPeg, Peg, Team
from league.sheets.cards import Member, TeamCard, Ticket, line_up_cards, peg_tickets, team_cards
from league.sheets.plan import PlannedPeg, peg_plan
from league.web.bank import closed_pegs
from league.web.match_sheets import head_of
from league.web.sheet_paper import paper_for


def tickets_of(request: HttpRequest, match: Match) -> bytes:
    """A ticket for every peg that may be drawn, in the order of the bank."""
    one_section = match.sections.count() == 1
    tickets = [
        Ticket(each.peg.number, "" if one_section else each.section.letter, each.peg.easy_access)
        for each in MatchPeg.objects.of(match).still_open()
    ]
    paper = paper_for(request, match.club)
    return peg_tickets(tickets, club=match.club.name, match=_named(match), paper=paper)


def team_cards_of(request: HttpRequest, match: Match) -> bytes:
    """Every team's pegs as drawn, for the captain's pocket."""
    members: dict[Team, list[Member]] = {}
    for entry in Entry.objects.of(match).in_peg_order():
        if entry.team and entry.match_peg:
            easy = "easy access" if entry.easy_access else ""
            hazard = entry.match_peg.peg.hazards.strip().rstrip(".")
            remark = ", ".join(part for part in (easy, hazard) if part)
            letter = entry.section.letter if entry.section else ""
            name = entry.angler.shown_name
            members.setdefault(entry.team, []).append(
                Member(letter, entry.match_peg.peg.number, name, remark)
            )
    cards = [
        TeamCard(team.name, tuple(members[team]))
        for team in sorted(members, key=lambda team: team.name)
    ]
    return team_cards(
        cards,
        club=match.club.name,
        match=_named(match),
        when=_when(match),
        paper=paper_for(request, match.club),
    )


def line_up_cards_of(request: HttpRequest, match: Match) -> bytes:
    """A card for every team of the season, empty for the captain to write on."""
    letters = [section.letter for section in match.sections.all()]
    teams = Team.objects.of(match.season) if match.season else []
    lines = tuple(Member(letter) for letter in letters for _ in range(match.per_section))
    cards = [TeamCard(team.name, lines) for team in teams]
    return line_up_cards(
        cards,
        club=match.club.name,
        match=_named(match),
        when=_when(match),
        paper=paper_for(request, match.club),
    )


def plan_of(request: HttpRequest, match: Match) -> bytes:
    """Every peg from the first to the last used, those left out included."""
    used, bank = list(MatchPeg.objects.of(match)), list(Peg.objects.along(match.water))
    note = match.water.venue.note_for_bailiff.splitlines()
    head = head_of(request, match, "match", tuple(note))
    return peg_plan(head, _planned(bank, used, match))


def _planned(bank: Sequence[Peg], used: Sequence[MatchPeg], match: Match) -> list[PlannedPeg]:
    closed = dict(closed_pegs(bank, used, match.date))
    sections = {each.peg_id: each.section.letter for each in used}
    return [
        PlannedPeg(
            peg.number,
            "" if peg.number in closed else sections.get(peg.pk, ""),
            closed.get(peg.number, ""),
            easy_access=peg.easy_access,
            hazard=peg.hazards.strip(),
            gap_after=peg.gap_after,
        )
        for peg in bank
        if peg.pk in sections or peg.number in closed
    ]


def _named(match: Match) -> str:
    return f"{match.title}, {match.water.name}"


def _when(match: Match) -> str:
    return f"{match.date:%A} {match.date.day} {match.date:%B %Y}"
