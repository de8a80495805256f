"""The draw: given the published texts, who is on which peg, and why this attempt and no other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from league.rules.draw_chain import (
    EVENTS,
    Stream,
    chain,
    commitment,
    fingerprint,
    opens,
    pick,
    reveal,
)
from league.rules.draw_engine import ATTEMPTS, Clash, Refused
from league.rules.draw_event import (
    Call,
    Change,
    Event,
    Late,
    Redraw,
    Unsafe,
    check_calls,
    make_event,
    parse_change,
)
from league.rules.draw_faults import doubts, faults
from league.rules.draw_sheet import Entry, Section, Sheet
from league.rules.draw_steps import STEPS, Outcome, Standing
from league.rules.errors import DrawError

__all__ = [
    "ATTEMPTS",
    "EVENTS",
    "Call",
    "Change",
    "Clash",
    "Entry",
    "Event",
    "Late",
    "Outcome",
    "Redraw",
    "Refused",
    "Section",
    "Sheet",
    "Stream",
    "Unsafe",
    "chain",
    "check_event",
    "commitment",
    "doubts",
    "faults",
    "fingerprint",
    "make_event",
    "opens",
    "parse_change",
    "pick",
    "replay",
    "reveal",
    "run",
    "say",
]


def run(sheet: Sheet, event: Event, earlier: Sequence[Event] = ()) -> Outcome:
    """Work *event* out from the texts alone; *earlier* are the finished events before it."""
    return replay(sheet, [*earlier, event])[-1]


def replay(sheet: Sheet, events: Iterable[Event]) -> list[Outcome]:
    """
    Work every finished event out, first to last.

    Whether the texts were fixed when they should have been is `check_event`'s question; here
    they are only required to belong together.
    """
    if wrong := faults(sheet):
        raise DrawError("\n".join(wrong))
    standing = Standing(tuple(sorted(sheet.entries, key=lambda entry: entry.no)))
    outcomes: list[Outcome] = []
    last = ""
    for event in events:
        _belongs(sheet, event, last)
        standing, outcome = STEPS[event.kind](sheet, event, standing)
        outcomes.append(outcome)
        last = event.seed
    return outcomes


def check_event(sheet: Sheet, event: Event, published: str) -> None:
    """Refuse an event whose calls or reveal do not fit the sheet and what was *published*."""
    check_calls(sheet, event.calls)
    if not opens(event.reveal, event.number, published):
        raise DrawError(
            f"What event {event.number} revealed does not lead to the published commitment: "
            "it is not the secret that was locked away."
        )


def say(outcome: Outcome, teams: Mapping[str, str] | None = None) -> list[str]:
    """The explanation of an outcome in sentences; *teams* are the shown names of the team codes."""
    named = teams or {}

    def pairs(clashes: tuple[Clash, ...]) -> str:
        return "; ".join(
            f"pegs {clash.one} and {clash.other} both went to {named.get(clash.team, clash.team)}"
            for clash in clashes
        )

    told = [f"Attempt {no.attempt} did not stand: {pairs(no.clashes)}." for no in outcome.refused]
    if outcome.attempt is not None:
        told.append(f"Attempt {outcome.attempt} stands.")
    if outcome.clashes:
        told.append(
            "No draw kept every team apart. This one has the fewest neighbours: "
            f"{pairs(outcome.clashes)}."
        )
    if all(call is None for _, call in outcome.event.calls):
        told.append("No numbers called: the pegs follow from the locked secret alone.")
    return told


def _belongs(sheet: Sheet, event: Event, last: str) -> None:
    """Refuse an event of another match or sheet, or out of turn."""
    if event.match != sheet.match:
        raise DrawError(f"The event is of match {event.match!r}, the sheet of {sheet.match!r}.")
    if event.sheet != sheet.digest:
        raise DrawError(
            f"Event {event.number} was made for another sheet: its fingerprint is {event.sheet}, "
            f"this sheet's is {sheet.digest}. The sheet was changed after it was frozen."
        )
    if last and event.prev != last:
        raise DrawError(f"Event {event.number} does not follow the seed of the event before it.")
