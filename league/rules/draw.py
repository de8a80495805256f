"""The draw: given the published texts, who is on which peg, and why this attempt and no other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

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
    ByHand,
    Call,
    Change,
    Event,
    Given,
    Late,
    Redraw,
    Step,
    Unsafe,
    check_calls,
    make_event,
    parse_change,
)
from league.rules.draw_faults import doubts, faults, hand_faults
from league.rules.draw_shares import place, whose
from league.rules.draw_sheet import TO_DRAW, Entry, Section, Sheet, parse_entry
from league.rules.draw_steps import (
    STEPS,
    Outcome,
    Standing,
    draw_sections,
    given_step,
    hand_step,
    place_by_hand,
)
from league.rules.errors import DrawError

__all__ = [
    "ATTEMPTS",
    "EVENTS",
    "TO_DRAW",
    "ByHand",
    "Call",
    "Change",
    "Clash",
    "Entry",
    "Event",
    "Given",
    "Late",
    "Outcome",
    "Redraw",
    "Refused",
    "Section",
    "Sheet",
    "Step",
    "Stream",
    "Unsafe",
    "chain",
    "check_event",
    "commitment",
    "doubts",
    "faults",
    "fingerprint",
    "hand_faults",
    "make_event",
    "opens",
    "parse_change",
    "parse_entry",
    "pick",
    "rehearse",
    "replay",
    "reveal",
    "run",
    "say",
]

# So many neighbours are named before the sheet is frozen; more only make the sentence long.
SHOWN = 3


def run(sheet: Sheet, event: Event, earlier: Sequence[Step] = ()) -> Outcome:
    """Work *event* out from the texts alone; *earlier* are the finished events before it."""
    return replay(sheet, [*earlier, event])[-1]


def replay(sheet: Sheet, events: Iterable[Step]) -> list[Outcome]:
    """
    Work every finished event out, first to last, and what was given by hand between them.

    Whether the texts were fixed when they should have been is `check_event`'s question; here
    they are only required to belong together.
    """
    if wrong := faults(sheet):
        raise DrawError("\n".join(wrong))
    standing: Standing | None = None
    placed = sheet
    outcomes: list[Outcome] = []
    last = ""
    for event in events:
        line_ups = None
        if isinstance(event, Event):
            _belongs(sheet, event, last)
        if sheet.to_place and event.kind in {"draw", ByHand.kind}:
            line_ups = (
                place_by_hand(sheet, event)
                if isinstance(event, ByHand)
                else place(sheet, event.seed)
            )
            placed, standing = line_ups.sheet, None
        found = standing or _before(placed)
        if isinstance(event, ByHand):
            standing, outcome = hand_step(placed, event, found)
        elif isinstance(event, Given):
            standing, outcome = given_step(placed, event, found)
        else:
            standing, outcome = STEPS[event.kind](placed, event, found)
        outcomes.append(replace(outcome, line_ups=line_ups) if line_ups else outcome)
        last = event.seed or last
    return outcomes


def _before(sheet: Sheet) -> Standing:
    return Standing(tuple(sorted(sheet.entries, key=lambda entry: entry.no)))


def rehearse(
    sheet: Sheet,
    attempts: int = 50,
    teams: Mapping[str, str] | None = None,
    peg_names: Mapping[int, str] | None = None,
) -> list[str]:
    """
    Draw with made-up numbers before the sheet is frozen, and say if team-mates stay neighbours.

    A line-up that cannot be drawn at all is refused.

    It shows nothing of the draw to come. A sheet that fails is drawn all the same, but slowly,
    and with neighbours of one team at the end.
    """
    nothing = Event(sheet.match, 1, "0" * 64, sheet.digest, (), "0" * 64)
    letters = [section.letter for section in sheet.sections]
    placed = place(sheet, nothing.seed).sheet
    _, outcome = draw_sections(placed, nothing, _before(placed), letters, attempts)
    if not outcome.clashes:
        return []
    more = f", and {len(outcome.clashes) - SHOWN} more" if len(outcome.clashes) > SHOWN else ""
    pairs = _pairs(outcome.clashes[:SHOWN], teams or {}, peg_names or {})
    return [
        f"{attempts} draws with made-up numbers left team-mates as neighbours; in the best, "
        f"{pairs}{more}. Move an angler, leave out a peg between "
        "them, or take the pair out of the rule."
    ]


def check_event(sheet: Sheet, event: Event, published: str, earlier: Sequence[Step] = ()) -> None:
    """Refuse an event that does not fit the sheet, the *published* commitment and the past."""
    seeds = [before.seed for before in earlier if before.seed]
    _belongs(sheet, event, seeds[-1] if seeds else published)
    check_calls(sheet, event.calls)
    if not opens(event.reveal, event.number, published):
        raise DrawError(
            f"What event {event.number} revealed does not lead to the published commitment: "
            "it is not the secret that was locked away."
        )


def say(
    outcome: Outcome,
    teams: Mapping[str, str] | None = None,
    peg_names: Mapping[int, str] | None = None,
) -> list[str]:
    """
    The explanation of an outcome in sentences.

    *teams* are the shown names of the team codes, *peg_names* of pegs that the draw renumbered.
    """
    told = _of_line_ups(outcome, teams or {})
    if isinstance(outcome.event, ByHand):
        told.append(f"Drawn by hand from a bag{outcome.event.by and f' by {outcome.event.by}'}.")
    told += _of_end_pegs(outcome, teams or {}, peg_names or {})
    nearest = bool(outcome.refused and outcome.clashes)
    for refused in outcome.refused if not nearest else ():
        clashes = _pairs(refused.clashes, teams or {}, peg_names or {})
        told.append(f"Attempt {refused.attempt} did not stand: {clashes}.")
    if outcome.attempt is not None:
        told.append(f"Attempt {outcome.attempt} stands.")
    if nearest:
        told.append(f"No attempt of {ATTEMPTS} kept every team apart; this one came nearest.")
    if outcome.clashes:
        clashes = _pairs(outcome.clashes, teams or {}, peg_names or {})
        told.append(f"Team-mates are neighbours all the same: {clashes}.")
    if isinstance(outcome.event, Event) and all(call is None for _, call in outcome.event.calls):
        told.append("No numbers called: the pegs follow from the locked secret alone.")
    return told


def _of_line_ups(outcome: Outcome, teams: Mapping[str, str]) -> list[str]:
    """Why each team's members fish where they do."""
    if outcome.line_ups is None:
        return []
    if alone := outcome.line_ups.alone:
        told = ["Who fishes which section was drawn from the same numbers."]
        if alone.shared:
            told.append(
                f"Of {alone.of} anglers {alone.anglers} are in a section each has fished least; "
                "no other sharing has fewer earlier visits in all."
            )
        return told
    if not outcome.line_ups.ways:
        return []
    told = ["Which member fishes which section was drawn from the same numbers."]
    if attempt := outcome.line_ups.attempt:
        told.append(
            "Members of several teams need an accessible peg: "
            f"attempt {attempt} is the first in which every section has enough."
        )
    for ways in outcome.line_ups.ways:
        fair = "are the fairest after what they fished before" if ways.shared else "were open"
        one = "is the fairest after what they fished before" if ways.shared else "was open"
        told.append(
            f"{teams.get(ways.team, ways.team)}: "
            + (f"{ways.of} ways {fair}, and way {ways.way} came out." if ways.of > 1 else "")
            + (f"one way {one}." if ways.of == 1 else "")
        )
    return told


def _of_end_pegs(
    outcome: Outcome, teams: Mapping[str, str], peg_names: Mapping[int, str]
) -> list[str]:
    """Who was given an end peg before the others drew."""
    if not outcome.ends:
        return []
    entry_of = {entry.no: entry for entry in outcome.entries}
    given = ", ".join(
        f"{peg_names.get(peg, peg)} to {teams.get(entry.team, entry.team) or f'entry {no}'} "
        f"(had {outcome.had.get(whose(entry), 0)})"
        for no, peg in sorted(outcome.ends.items(), key=lambda item: item[1])
        for entry in [entry_of[no]]
    )
    return [f"End pegs went first, by tickets: peg {given}."]


def _pairs(clashes: Iterable[Clash], teams: Mapping[str, str], peg_names: Mapping[int, str]) -> str:
    return "; ".join(
        f"pegs {peg_names.get(clash.one, clash.one)} and {peg_names.get(clash.other, clash.other)} "
        f"both went to {teams.get(clash.team, clash.team)}"
        for clash in clashes
    )


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
