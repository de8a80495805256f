"""Venues and waters: the bank as it is said, pegs out of use, what the venue wants."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.contrib.auth.models import User
from django.core.exceptions import ValidationError

from league.models import Club, Peg, Venue, Water
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, change, writing
from league.rules import pegs as rules
from league.rules.bank import parse_pegs, say_bank, say_pegs
from league.rules.errors import PegError
from league.rules.figures import and_list

NO_REASON = "not in use"
WRITTEN = (
    *("order", "gap_after", "easy_access", "left_out", "left_out_why"),
    *("hazards", "out_from", "out_until"),
)
FAR = 100_000  # an order no bank reaches, to stand in while pegs change places


def make_water(
    club: Club, *, venue: str, name: str, pegs: Sequence[rules.Peg], by: User | None
) -> Water:
    """Enter a water with its bank; a venue of that name is found, or made with it."""
    venue, name = " ".join(venue.split()), " ".join(name.split())
    if not pegs:
        raise RefusedError("Say which pegs the water has, for example 1-24, not 13.")
    with writing():
        place = Venue.objects.called(club, venue) or add(Venue(club=club, name=venue))
        water = add(Water(venue=place, name=name))
        _write_bank(water, pegs)
        write_down(f"{water} entered, {_count(pegs)}.", by=by, club=club)
    return water


def set_bank(water: Water, pegs: Sequence[rules.Peg], *, by: User | None) -> None:
    """
    Make the bank of *water* just these pegs, in this order.

    A peg that a match has used cannot go: results name it. It is left out instead.
    """
    if not pegs:
        raise RefusedError("A water has at least one peg.")
    with writing():
        was = say_bank(bank_of(water))
        names = {peg.name for peg in pegs}
        gone = [peg for peg in Peg.objects.along(water) if peg.number not in names]
        fished = [peg for peg in Peg.objects.along(water).fished() if peg.number not in names]
        if fished:
            numbers = say_pegs([peg.number for peg in fished])
            raise RefusedError(
                f"Peg{'s' if len(fished) > 1 else ''} {numbers}: matches have been planned or "
                f"fished there, so the water keeps the number. Write: not "
                f"{say_pegs([peg.number for peg in fished], ' and ')} (and why)."
            )
        for peg in gone:
            peg.delete()
        _write_bank(water, pegs)
        now = say_bank(bank_of(water))
        if now != was:
            write_down(f"Bank of {water}: {now}", by=by, club=water.venue.club)


def take_out(
    water: Water,
    numbers: Sequence[str],
    *,
    why: str,
    starts: date | None = None,
    ends: date | None = None,
    by: User | None,
) -> list[Peg]:
    """Take pegs out of use, from and until the days named; without an end until put back."""
    why = " ".join(why.split())
    if not why:
        raise RefusedError("Say why the pegs are out of use: it stands on the peg plan.")
    with writing():
        pegs = _named(water, numbers)
        for peg in pegs:
            peg.left_out, peg.left_out_why = True, why
            peg.out_from, peg.out_until = starts, ends
            change(peg, "left_out", "left_out_why", "out_from", "out_until")
        said = say_pegs([peg.number for peg in pegs])
        write_down(
            f"{water}, out of use{said_span(starts, ends)}: {said} ({why}).",
            by=by,
            club=water.venue.club,
        )
    return pegs


def put_back(water: Water, numbers: Sequence[str], *, by: User | None) -> list[Peg]:
    """Take pegs into use again."""
    with writing():
        pegs = _named(water, numbers)
        for peg in pegs:
            peg.left_out, peg.left_out_why = False, ""
            peg.out_from = peg.out_until = None
            change(peg, "left_out", "left_out_why", "out_from", "out_until")
        said = say_pegs([peg.number for peg in pegs])
        write_down(f"{water}, in use again: {said}.", by=by, club=water.venue.club)
    return pegs


def change_water(
    water: Water, *, name: str, net_limit: str, usual_sections: str, by: User | None
) -> Water:
    """What a water is called, its limit on nets, and how it is usually cut into sections."""
    with writing():
        usual_runs(water, usual_sections)
        water.name = " ".join(name.split())
        water.net_limit, water.usual_sections = net_limit.strip(), usual_sections.strip()
        change(water, "name", "net_limit", "usual_sections")
        write_down(f"{water}: name, net limit and usual sections set.", by=by, club=_club(water))
    return water


def change_venue(
    venue: Venue, *, name: str, rules: str, note_for_bailiff: str, by: User | None
) -> Venue:
    """A venue's name, its own rules and the note for its bailiff; both are printed."""
    with writing():
        venue.name = " ".join(name.split())
        venue.rules, venue.note_for_bailiff = rules.strip(), note_for_bailiff.strip()
        change(venue, "name", "rules", "note_for_bailiff")
        write_down(f"{venue}: name, rules and note for the bailiff set.", by=by, club=venue.club)
    return venue


def bank_of(water: Water) -> list[rules.Peg]:
    """The bank of *water* as the rules know it, hazards included."""
    return [as_said(peg) for peg in Peg.objects.along(water)]


def as_said(peg: Peg) -> rules.Peg:
    """A peg as it is said; one that is out for a time says so in its reason."""
    return rules.Peg(
        name=peg.number,
        order=peg.order,
        gap_after=peg.gap_after,
        easy_access=peg.easy_access,
        left_out=peg.left_out,
        why=peg.left_out_why if peg.left_out else "",
        hazard=peg.hazards,
    )


def usual_runs(water: Water, said: str | None = None) -> dict[str, list[Peg]]:
    """The usual sections of *water*, by letter, with the pegs that are said of each."""
    lines = [line for line in (water.usual_sections if said is None else said).splitlines() if line]
    bank = {peg.number: peg for peg in Peg.objects.along(water)}
    runs: dict[str, list[Peg]] = {}
    faults = []
    for letter, line in zip(rules.section_letters(len(lines)), lines, strict=True):
        try:
            names = [peg.name for peg in parse_pegs(line) if not peg.left_out]
        except PegError as error:
            faults += [f"Section {letter}: {words}" for words in str(error).splitlines()]
            continue
        if missing := [name for name in names if name not in bank]:
            faults.append(f"Section {letter}: {water} has no peg {', '.join(missing)}.")
        runs[letter] = [bank[name] for name in names if name in bank]
    twice = [
        peg.number
        for letter, run in runs.items()
        for peg in run
        if any(peg in other for after, other in runs.items() if after > letter)
    ]
    if twice:
        faults.append(f"In two sections: {and_list(twice)}.")
    if faults:
        raise RefusedError("\n".join(faults))
    return runs


def said_span(starts: date | None, ends: date | None) -> str:
    """From when until when, as it goes on after "out of use"."""
    said = ""
    if starts:
        said += f" from {starts.day} {starts:%B %Y}"
    if ends:
        said += f" until {ends.day} {ends:%B %Y}"
    return said


def _write_bank(water: Water, pegs: Sequence[rules.Peg]) -> None:
    there = {peg.number: peg for peg in Peg.objects.along(water)}
    # Two pegs never stand at one place, not even for a moment: the old ones step aside first.
    for peg in there.values():
        peg.order += FAR
    Peg.objects.bulk_update(there.values(), ["order"])
    new: list[Peg] = []
    kept: list[Peg] = []
    for order, said in enumerate(pegs, start=1):
        peg = there.get(said.name) or Peg(water=water, number=said.name)
        if not said.left_out:
            peg.out_from = peg.out_until = None
        peg.order = order
        peg.gap_after, peg.easy_access = said.gap_after, said.easy_access
        peg.left_out = said.left_out
        peg.left_out_why = (said.why or NO_REASON) if said.left_out else ""
        peg.hazards = said.hazard
        _fits(peg)
        (kept if peg.pk else new).append(peg)
    Peg.objects.bulk_create(new)
    Peg.objects.bulk_update(kept, WRITTEN)


def _fits(peg: Peg) -> None:
    try:
        peg.clean_fields(exclude=["water"])
    except ValidationError as fault:
        raise RefusedError(f"Peg {peg.number}: {' '.join(fault.messages)}") from fault


def _named(water: Water, numbers: Sequence[str]) -> list[Peg]:
    bank = {peg.number: peg for peg in Peg.objects.along(water)}
    if missing := [number for number in numbers if number not in bank]:
        raise RefusedError(f"{water} has no peg {', '.join(missing)}.")
    if not numbers:
        raise RefusedError("Say which pegs, for example 13 or 40-44.")
    return [bank[number] for number in numbers]


def _count(pegs: Sequence[rules.Peg]) -> str:
    out = sum(peg.left_out for peg in pegs)
    said = f"{len(pegs)} peg{'' if len(pegs) == 1 else 's'}"
    return f"{said}, {out} of them left out" if out else said


def _club(water: Water) -> Club:
    return water.venue.club
