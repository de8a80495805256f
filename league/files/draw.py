"""The draw record: everything published of a draw, and all that a check of it needs. JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from league.rules import draw
from league.rules.errors import DrawError

TAG = "PEGDRAW/1"


@dataclass(frozen=True, slots=True)
class Abandoned:
    """An event that was begun and not finished. It keeps its number, and stays listed with why."""

    number: int
    why: str

    kind = "abandoned"


Listed: TypeAlias = draw.Event | draw.ByHand | Abandoned


@dataclass(frozen=True, slots=True)
class Record:
    """
    A draw as published.

    *names* are shown beside entry numbers and *teams* beside team codes; neither is ever hashed.
    *peg_names* are the pegs' own names, where the draw had to number them afresh. *given* are the
    pegs given by hand after the draw.
    """

    sheet: draw.Sheet
    commitment: str
    events: tuple[Listed, ...] = ()
    names: Mapping[int, str] = field(default_factory=dict)
    teams: Mapping[str, str] = field(default_factory=dict)
    peg_names: Mapping[int, str] = field(default_factory=dict)
    given: tuple[draw.Given, ...] = ()

    @property
    def finished(self) -> list[draw.Step]:
        """The events that came to an end, and the pegs given by hand between them, in order."""
        steps: list[draw.Step] = [each for each in self.events if not isinstance(each, Abandoned)]
        return sorted(
            [*steps, *self.given],
            key=lambda step: (step.after, 1) if isinstance(step, draw.Given) else (step.number, 0),
        )

    def outcomes(self) -> list[draw.Outcome]:
        """What the finished events come out as."""
        return draw.replay(self.sheet, self.finished)


def as_json(record: Record) -> dict[str, Any]:
    """The record with every finished event worked out, ready to be written."""
    worked = (each for each in record.outcomes() if not isinstance(each.event, draw.Given))
    events = [
        _abandoned(event) if isinstance(event, Abandoned) else _event(next(worked))
        for event in record.events
    ]
    out: dict[str, Any] = {
        "record": TAG,
        "match": record.sheet.match,
        "commitment": record.commitment,
        "sheet": record.sheet.text,
        "events": events,
        "names": _keyed(record.names),
    }
    if record.teams:
        out["teams"] = dict(record.teams)
    if record.given:
        out["given"] = [_given(given) for given in record.given]
    if record.peg_names:
        out["peg_names"] = _keyed(record.peg_names)
    return out


def write_record(record: Record) -> str:
    """The file that is offered for download."""
    return json.dumps(as_json(record), indent=1, ensure_ascii=False) + "\n"


def read_record(text: str) -> Record:
    """
    Read a draw record; what it says of seeds and pegs is left to the check.

    Every text has to be one that a draw could have published; otherwise the first that is not
    is named.
    """
    try:
        said = json.loads(text)
    except ValueError as error:
        raise DrawError(f"This is no draw record: it cannot be read as JSON ({error}).") from error
    if not isinstance(said, dict) or said.get("record") != TAG:
        raise DrawError(f'This is no draw record: it does not say "record": "{TAG}".')
    try:
        return Record(
            draw.Sheet.parse(said["sheet"]),
            said.get("commitment") or "",
            tuple(_listed(event) for event in said.get("events", [])),
            _numbered(said.get("names")),
            dict(said.get("teams") or {}),
            _numbered(said.get("peg_names")),
            tuple(_read_given(given) for given in said.get("given") or []),
        )
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        if isinstance(error, DrawError):
            raise
        raise DrawError(f"The draw record has something where it should not: {error}.") from error


def _event(outcome: draw.Outcome) -> dict[str, Any]:
    event = outcome.event
    out: dict[str, Any] = {"event": event.number, "kind": event.kind}
    if isinstance(event, draw.Event):
        out |= {"text": event.text, "seed": event.seed, "attempt": outcome.attempt}
    else:
        out |= {"text": None, "by": event.by}
    if outcome.line_ups:
        out["sections"] = _keyed(outcome.line_ups.sections)
    if outcome.ends:
        out["ends"] = {str(no): str(peg) for no, peg in sorted(outcome.ends.items())}
    out["pegs"] = {str(no): str(peg) for no, peg in outcome.pegs.items()}
    out["bag"] = {letter: _texts(pegs) for letter, pegs in outcome.bag.items()}
    if outcome.clashes:
        out["clashes"] = [_texts((clash.one, clash.other)) for clash in outcome.clashes]
    return out


def _given(given: draw.Given) -> dict[str, Any]:
    return {
        "after": given.after,
        "entry": given.entry.line,
        "peg": str(given.peg),
        "by": given.by,
        "at": given.at,
        "why": given.why,
    }


def _read_given(said: Mapping[str, Any]) -> draw.Given:
    entry = draw.parse_entry(str(said["entry"]))
    return draw.Given(
        int(said["after"]),
        entry,
        int(said["peg"]),
        str(said.get("by") or ""),
        str(said.get("at") or ""),
        str(said.get("why") or ""),
    )


def _abandoned(event: Abandoned) -> dict[str, Any]:
    return {"event": event.number, "kind": event.kind, "text": None, "why": event.why}


def _listed(said: Mapping[str, Any]) -> Listed:
    number, text = int(said["event"]), said.get("text")
    if text is not None:
        event = draw.Event.parse(text)
        if event.number != number:
            raise DrawError(f"Event {number}: its text says that it is event {event.number}.")
        return event
    if said.get("kind") == draw.ByHand.kind:
        pegs = {int(no): int(peg) for no, peg in said["pegs"].items()}
        return draw.ByHand(number, pegs, said.get("by") or "")
    if said.get("kind") == Abandoned.kind:
        return Abandoned(number, said.get("why") or "")
    raise DrawError(f"Event {number} has no text: nothing shows where its pegs come from.")


def _texts(numbers: Iterable[int]) -> list[str]:
    return [str(number) for number in numbers]


def _keyed(names: Mapping[int, str]) -> dict[str, str]:
    return {str(number): name for number, name in names.items()}


def _numbered(names: Mapping[str, str] | None) -> dict[int, str]:
    return {int(number): str(name) for number, name in (names or {}).items()}
