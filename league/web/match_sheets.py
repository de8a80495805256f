"""From a match to the sheets of its bank: who is where, and the walk to write on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from league.models import DrawRecord, Match, MatchPeg, Peg
from league.operations.score import book_of
from league.rules.doubts import shortly
from league.rules.walks import Walk, along
from league.rules.weights import Unit
from league.sheets.page import SheetHead
from league.sheets.pegs import ClosedPeg, DrawnPeg, peg_sheet
from league.sheets.weigh import Stop as SheetStop
from league.sheets.weigh import weigh_sheet
from league.web.bank import closed_pegs, hazards
from league.web.sheet_paper import paper_for
from league.web.walk import Stop, walk_of

WHOLE_BANK = Walk()


def draw_sheet_of(request: HttpRequest, match: Match) -> bytes:
    """Who is on which peg, by peg and by name."""
    used, bank = list(MatchPeg.objects.of(match)), list(Peg.objects.along(match.water))
    on = {stop.peg: stop for stop in walk_of(match)}
    # Hazards at the pegs that are fished stand beside them; these are at the pegs left out.
    dangers = [
        f"Peg {peg.number}: {peg.hazards.strip().rstrip('.')}."
        for peg in bank
        if peg.hazards and peg.number in dict(closed_pegs(bank, used, match.date))
    ]
    page = "draw-check" if _is_checked(match) else "match"
    head = head_of(request, match, page, (), tuple(dangers))
    return peg_sheet(
        head,
        [_drawn(each, on.get(each.peg.number)) for each in used if not each.closed_why],
        left_out=[ClosedPeg(number, why) for number, why in closed_pegs(bank, used, match.date)],
    )


def weigh_sheet_of(request: HttpRequest, match: Match, part: Walk = WHOLE_BANK) -> bytes:
    """The walk in the screen's order, to be written on with a pencil; *part* is one pair's."""
    used, bank = list(MatchPeg.objects.of(match)), list(Peg.objects.along(match.water))
    unit, limit = Unit(match.unit), book_of(match).net.limit
    notes = []
    if match.all_out:
        notes.append(f"All out is at {match.all_out:%H:%M}.")
    if limit is not None:
        notes.append(f"Net limit {shortly(limit, unit)}.")
    every = walk_of(match)
    if part != WHOLE_BANK:
        notes.append(f"{part.words}.")
    walk = [every[place] for place in along(part, [(stop.peg, stop.letter) for stop in every])]
    said = _on_the_way(_stretch(bank, walk, part), used, walk, match.date)
    stops = [
        SheetStop(
            stop.peg,
            stop.name,
            _team(stop),
            stop.letter,
            before=said.get(stop.peg, ()),
            # The page that needs no signal; a phone that is not let in is told what to do.
            address=request.build_absolute_uri(
                f"{reverse('scales-phone', args=[match.pk])}#peg={stop.entry.pk}"
            ),
        )
        for stop in walk
    ]
    head = head_of(request, match, "scales", tuple(notes), tuple(hazards(bank, used)))
    return weigh_sheet(head, stops, unit=unit)


def _stretch(bank: Sequence[Peg], walk: Sequence[Stop], part: Walk) -> Sequence[Peg]:
    """The pegs from one end of a pair's walk to the other, in the order it is walked."""
    if not walk or part == WHOLE_BANK:
        return bank
    ends = sorted(peg.order for peg in bank if peg.number in {walk[0].peg, walk[-1].peg})
    stretch = [peg for peg in bank if ends[0] <= peg.order <= ends[-1]]
    return stretch[::-1] if part.backwards else stretch


def _on_the_way(
    bank: Sequence[Peg], used: Sequence[MatchPeg], walk: Sequence[Stop], on: date
) -> dict[str, tuple[str, ...]]:
    """The pegs left out, said before the next stop of the walk."""
    closed, stops = dict(closed_pegs(bank, used, on)), {stop.peg for stop in walk}
    said: dict[str, tuple[str, ...]] = {}
    passed: dict[str, list[str]] = {}
    for peg in bank:
        if peg.number in closed:
            passed.setdefault(closed[peg.number].rstrip("."), []).append(peg.number)
        elif peg.number in stops and passed:
            said[peg.number] = tuple(
                f"Peg{'s' if len(pegs) > 1 else ''} {', '.join(pegs)} left out: {why}."
                for why, pegs in passed.items()
            )
            passed = {}
    return said


def _drawn(used: MatchPeg, stop: Stop | None) -> DrawnPeg:
    if stop is None:
        return DrawnPeg(used.peg.number, section=used.section.letter, hazard=used.peg.hazards)
    return DrawnPeg(
        used.peg.number,
        stop.name,
        _team(stop),
        used.section.letter,
        easy_access=stop.entry.easy_access,
        hazard=used.peg.hazards,
        note="reserve" if stop.entry.reserve else "",
    )


def head_of(
    request: HttpRequest,
    match: Match,
    page: str,
    notes: tuple[str, ...],
    dangers: tuple[str, ...] = (),
) -> SheetHead:
    """What every sheet of a match says about itself; *page* is what its code opens."""
    return SheetHead(
        club=match.club.name,
        title=f"{match.title}, {match.water.name}",
        series=str(match.season) if match.season else "",
        date=f"{match.date:%A} {match.date.day} {match.date:%B %Y}",
        printed=f"{timezone.localtime():%H:%M}",
        address=request.build_absolute_uri(reverse(page, args=[match.pk])),
        notes=(*notes, *_of_the_venue(match)),
        hazards=dangers,
        paper=paper_for(request, match.club),
    )


def _of_the_venue(match: Match) -> list[str]:
    """What the venue wants: its limit on nets, and its own rules."""
    limit = match.water.net_limit.rstrip(".")
    return [
        *([f"Limit on a net at {match.water}: {limit}."] if limit else []),
        *match.water.venue.rules.splitlines(),
    ]


def _is_checked(match: Match) -> bool:
    record = DrawRecord.objects.of(match)
    return record is not None and record.frozen_at is not None


def _team(stop: Stop) -> str:
    return stop.entry.team.name if stop.entry.team else ""
