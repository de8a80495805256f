"""A section typed from paper: one box a peg, as it is written on the sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from uuid import UUID, uuid4

from league.rules.doubts import Doubt, doubts_about
from league.rules.errors import WeightError
from league.rules.lines import Status
from league.rules.meant import ask_if_meant
from league.rules.nets import NetRules
from league.rules.usual import Today
from league.rules.weights import Unit, Weight
from league.web.walk import Stop

# As a pencil writes them.
SIGNS = {
    "b": Status.BLANK,
    "blank": Status.BLANK,
    "dnw": Status.NOT_WEIGHED,
    "did not weigh": Status.NOT_WEIGHED,
    "not weighed": Status.NOT_WEIGHED,
    "withdrew": Status.WITHDREW,
    "a": Status.ABSENT,
    "absent": Status.ABSENT,
}


@dataclass(slots=True)
class Box:
    """One peg's box: what was typed, what it says, and what is wrong or worth asking."""

    stop: Stop
    typed: str = ""
    key: UUID = field(default_factory=uuid4)
    status: Status = Status.WEIGHED
    nets: tuple[int, ...] = ()
    slip: str = ""
    doubts: tuple[Doubt, ...] = ()
    agreed: str = ""
    kept: bool = False

    @property
    def number(self) -> int:
        """What its fields are named by."""
        return self.stop.entry.pk

    @property
    def is_read(self) -> bool:
        """Whether something was typed and can be read."""
        return bool(self.typed) and not self.slip

    @property
    def asks(self) -> tuple[Doubt, ...]:
        """What is still to be agreed to."""
        return tuple(each for each in self.doubts if each.key not in self.agreed.split())


def boxes(stops: Sequence[Stop], posted: Mapping[str, str] | None, unit: Unit) -> list[Box]:
    """The boxes of a section, filled in with what was typed."""
    return [_box(stop, posted or {}, unit) for stop in stops]


def look(box: Box, net: NetRules, unit: Unit, today: Today) -> None:
    """Ask about a box that reads strangely."""
    if box.is_read and box.status is Status.WEIGHED:
        box.doubts = doubts_about(box.nets, net, unit, today, on_paper=True)


def _box(stop: Stop, posted: Mapping[str, str], unit: Unit) -> Box:
    pk = stop.entry.pk
    box = Box(stop, typed=posted.get(f"peg-{pk}", "").strip(), agreed=posted.get(f"yes-{pk}", ""))
    try:
        box.key = UUID(posted.get(f"key-{pk}", ""))
    except ValueError:
        box.key = uuid4()
    if not box.typed:
        return box
    if status := SIGNS.get(" ".join(box.typed.lower().split())):
        box.status = status
        return box
    nets = []
    for part in box.typed.split("+"):
        try:
            nets.append(Weight.parse(part, unit).amount)
        except WeightError as error:
            box.slip = str(error) + ask_if_meant(part, unit)
            return box
    box.nets = tuple(nets)
    if not sum(nets):
        box.slip = "Nothing on the scales is a blank: write b."
    return box
