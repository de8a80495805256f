"""Sections over a bank: cut by the rules, or set by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from django.contrib.auth.models import User

from league.models import DrawRecord, Entry, Match, MatchPeg, Peg, Section, Stage
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import writing
from league.rules import pegs as bank
from league.rules.errors import PegError
from league.rules.pegs import section_letters


def make_sections(
    match: Match, *, count: int, pegs: Sequence[Peg], size: int | None = None, by: User | None
) -> list[Section]:
    """
    Cut *pegs* into *count* sections along the bank and use them for *match*.

    With a *size* every section has so many pegs; without one they are as equal as the pegs
    allow. Sections made before are replaced; anglers keep the letter they were given.
    """
    return set_sections(match, cut_pegs(count=count, pegs=pegs, size=size, on=match.date), by=by)


def cut_pegs(
    *, count: int, pegs: Sequence[Peg], size: int | None = None, on: date | None = None
) -> dict[str, list[Peg]]:
    """Where the sections would lie on the day *on*: letters with their pegs, nothing written."""
    by_order = {peg.order: peg for peg in pegs}
    try:
        cut = bank.make_sections([as_rule(peg, on) for peg in pegs], count, size)
    except PegError as error:
        raise RefusedError(str(error)) from error
    return {letter: [by_order[peg.order] for peg in run] for letter, run in cut.sections.items()}


def set_sections(
    match: Match, runs: Mapping[str, Sequence[Peg]], *, by: User | None
) -> list[Section]:
    """Use the sections *runs* for *match*, as cut by the rules or changed by hand."""
    with writing():
        match = Match.objects.locked(match.pk)
        _may_be_cut(match)
        _look_over(match, runs)
        held = {entry.pk: str(entry.section) for entry in Entry.objects.of(match).placed()}
        match.sections.all().delete()
        sections = Section.objects.bulk_create(
            Section(match=match, letter=letter, order=order)
            for order, letter in enumerate(runs, start=1)
        )
        MatchPeg.objects.bulk_create(
            MatchPeg(match=match, section=section, peg=peg)
            for section, run in zip(sections, runs.values(), strict=True)
            for peg in run
        )
        by_letter = {section.letter: section for section in sections}
        for entry in Entry.objects.of(match):
            if section := by_letter.get(held.get(entry.pk, "")):
                entry.section = section
                entry.save(update_fields=["section"])
        sizes = ", ".join(f"{letter} {len(run)}" for letter, run in runs.items())
        write_down(f"Sections made: {sizes}.", by=by, club=match.club, match=match)
    return sections


def as_rule(peg: Peg, on: date | None = None) -> bank.Peg:
    """The peg as the rules know it, on the day *on*."""
    return bank.Peg(
        name=peg.number,
        order=peg.order,
        gap_after=peg.gap_after,
        easy_access=peg.easy_access,
        left_out=peg.is_out(on),
        why=peg.left_out_why,
    )


def _may_be_cut(match: Match) -> None:
    if match.stage == Stage.CANCELLED:
        raise RefusedError("The match is cancelled.")
    if match.is_drawn:
        raise RefusedError(
            "The pegs are drawn, so the sections stay as they are. "
            "A peg found unsafe is closed on the draw page."
        )
    record = DrawRecord.objects.of(match)
    if record and record.frozen_at:
        raise RefusedError(
            "The draw sheet is frozen with these sections. Open it again before a number is called."
        )


def _look_over(match: Match, runs: Mapping[str, Sequence[Peg]]) -> None:
    """Refuse pegs of another water, left out or twice, and sections without a peg."""
    faults = []
    seen: dict[int, str] = {}
    if not runs:
        faults.append("A match has at least one section.")
    allowed = set(section_letters(702))
    for letter, run in runs.items():
        if letter not in allowed:
            faults.append(f"A section is called A to Z or AA to ZZ, not {letter!r}.")
        if not run:
            faults.append(f"Section {letter} has no peg.")
        for peg in run:
            if peg.water_id != match.water_id:
                faults.append(f"Peg {peg} is not a peg of {match.water}.")
            elif peg.is_out(match.date):
                faults.append(f"Peg {peg} is left out: {peg.left_out_why}.")
            if peg.pk in seen:
                faults.append(f"Peg {peg} is in section {seen[peg.pk]} and in section {letter}.")
            seen[peg.pk] = letter
    if faults:
        raise RefusedError("\n".join(faults))
