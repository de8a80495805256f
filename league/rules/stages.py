"""A match day: what is done, what comes next, what is missing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum

from league.rules.figures import so_many


class Step(StrEnum):
    """The steps of a day, in their order; the value is what the board calls it."""

    BOOK_IN = "Book in"
    DRAW = "Draw"
    ALL_IN = "All in"
    ALL_OUT = "All out"
    SCALES = "Scales"
    RESULT = "Provisional result"
    FINAL = "Final result"


class State(StrEnum):
    """Where a step stands; the value is also its class on the page."""

    DONE = "done"
    NOW = "now"
    TO_COME = "to-come"


class Task(StrEnum):
    """The one thing the match secretary does next."""

    BOOK_IN = "book-in"
    SECTIONS = "sections"
    DRAW = "draw"
    WEIGH = "weigh"
    SETTLE = "settle"
    PUBLISH = "publish"
    CORRECT = "correct"
    ANSWER = "answer"
    WAIT = "wait"
    MAKE_FINAL = "make-final"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """
    What is known about a match at one moment.

    *now* is the club's own clock. *to_weigh* and *in_question* are peg numbers in bank order.
    """

    title: str
    date: date
    now: datetime
    book_in: time | None = None
    draw_at: time | None = None
    all_in: time | None = None
    all_out: time | None = None
    booked: int = 0
    pegs: int = 0  # pegs in sections that may be fished
    drawn: bool = False
    to_weigh: tuple[str, ...] = ()
    in_question: tuple[str, ...] = ()
    version: int = 0  # of the result; 0 where none is published
    changed: bool = False  # a weight or a decision came after that version
    objections_until: datetime | None = None
    to_answer: int = 0  # objections that nobody has answered
    final: bool = False
    cancelled: bool = False

    @property
    def objections_open(self) -> bool:
        """Whether the result can still be objected to."""
        return self.objections_until is not None and self.now < self.objections_until


@dataclass(frozen=True, slots=True)
class Moment:
    """One line of the order of the day."""

    step: Step
    at: time | None
    state: State
    when: str = ""  # "Next, in 48 minutes." on the line that is next


@dataclass(frozen=True, slots=True)
class Next:
    """The next thing: a headline that says where the day stands, and what the button does."""

    task: Task
    headline: str
    lead: str
    button: str = ""


def order_of_the_day(day: Day) -> tuple[Moment, ...]:
    """
    Every step with its time, in order; the first that is not done is next.

    A step is also done once a later one is: nobody publishes a result before all out, whatever
    the clock of the machine says.
    """
    weighed = day.drawn and not day.to_weigh and not day.in_question
    facts: list[tuple[Step, time | None, bool]] = [
        (Step.BOOK_IN, day.book_in, False),
        (Step.DRAW, day.draw_at, day.drawn),
        (Step.ALL_IN, day.all_in, day.drawn and _past(day, day.all_in)),
        (Step.ALL_OUT, day.all_out, day.drawn and _past(day, day.all_out)),
        (Step.SCALES, None, weighed),
        (Step.RESULT, None, day.version > 0),
        (Step.FINAL, _heard_until(day), day.final),
    ]
    last_done = max((place for place, (_, _, done) in enumerate(facts) if done), default=-1)
    moments = []
    for place, (step, at, _) in enumerate(facts):
        if place <= last_done:
            moments.append(Moment(step, at, State.DONE))
        elif place == last_done + 1 and not day.cancelled:
            moments.append(Moment(step, at, State.NOW, _when(day, at)))
        else:
            moments.append(Moment(step, at, State.TO_COME))
    return tuple(moments)


def next_thing(day: Day) -> Next:
    """What the secretary does next, in words; whoever takes over reads the same."""
    if day.cancelled:
        return Next(Task.NOTHING, f"{day.title} is cancelled", "It stays in the list, with why.")
    if day.final:
        return Next(Task.NOTHING, f"{day.title} is final", "There is nothing left to do.")
    if day.in_question:
        return _settle(day)
    if day.version:
        return _after_the_result(day)
    return _at_the_water(day) if day.drawn else _before_the_draw(day)


def _before_the_draw(day: Day) -> Next:
    if not day.booked:
        return Next(
            Task.BOOK_IN,
            f"Nobody is booked in for {in_a_sentence(day.title)}",
            "Book anglers in first. Then choose the pegs and draw.",
            "Book an angler in",
        )
    booked = _anglers(day.booked)
    if not day.pegs:
        return Next(
            Task.SECTIONS,
            f"{day.title} needs its sections",
            f"{booked} booked in. Choose the pegs, and into how many sections they go.",
            "Make the sections",
        )
    if day.pegs < day.booked:
        return Next(
            Task.SECTIONS,
            f"{day.title} is short of pegs",
            f"{booked} booked in, and {_pegs(day.pegs)} in the sections. "
            "Put more pegs in, or book somebody out.",
            "Make the sections again",
        )
    return Next(
        Task.DRAW,
        f"{day.title} is ready to be drawn",
        f"{booked} booked in, {_pegs(day.pegs)} in the bag. "
        "Book everybody in before you draw: a late entry draws afterwards, from what is left.",
        "To the draw",
    )


def _at_the_water(day: Day) -> Next:
    if not day.to_weigh:
        return Next(
            Task.PUBLISH,
            f"Every peg of {in_a_sentence(day.title)} is weighed",
            "Look the weights over, then publish the result.",
            "Publish the result",
        )
    if len(day.to_weigh) < day.booked:
        return Next(
            Task.WEIGH,
            f"{_pegs(len(day.to_weigh)).capitalize()} still to weigh in {in_a_sentence(day.title)}",
            f"Next is peg {day.to_weigh[0]}.",
            f"Weigh peg {day.to_weigh[0]}",
        )
    if _past(day, day.all_out):
        lead = "All out has been called. The scales walk in peg order."
    else:
        lead = f"All out is at {day.all_out:%H:%M}." if day.all_out else "Then come the scales."
    return Next(Task.WEIGH, f"{day.title} is drawn", lead, "To the scales")


def _after_the_result(day: Day) -> Next:
    if day.changed:
        return Next(
            Task.CORRECT,
            f"{day.title} has changed since version {day.version} was published",
            "What was published stays as it is until a corrected version is published.",
            "Publish the correction",
        )
    if day.to_answer:
        one = day.to_answer == 1
        return Next(
            Task.ANSWER,
            f"{'An objection' if one else f'{day.to_answer} objections'} to "
            f"{in_a_sentence(day.title)} to answer",
            "The result cannot be made final before that.",
            f"Answer the objection{'' if one else 's'}",
        )
    if day.objections_open and day.objections_until:
        return Next(
            Task.WAIT,
            f"{day.title} is published, version {day.version}",
            f"Objections are heard until {moment(day.objections_until)}. "
            "Then it can be made final.",
        )
    lead = (
        f"Objections closed on {moment(day.objections_until)}."
        if day.objections_until
        else "No time was set for objections."
    )
    return Next(
        Task.MAKE_FINAL,
        f"{day.title} is ready to be made final",
        lead,
        f"Make {in_a_sentence(day.title)} final",
    )


def _settle(day: Day) -> Next:
    pegs = day.in_question
    headline = (
        f"Peg {pegs[0]} has two weights" if len(pegs) == 1 else f"{len(pegs)} pegs have two weights"
    )
    return Next(
        Task.SETTLE,
        headline,
        "Both are kept. Say which one stands.",
        f"Settle peg {pegs[0]}",
    )


def moment(at: datetime) -> str:
    """A day and a time as people say them: Monday 20:00."""
    return f"{at:%A} {at:%H:%M}"


def in_a_sentence(title: str) -> str:
    """A title inside a sentence: round 6, but the Boxing Day match keeps its capitals."""
    word, _, rest = title.partition(" ")
    return f"round {rest}" if word == "Round" and rest.isdigit() else title


def _heard_until(day: Day) -> time | None:
    """When objections close, where that is on the day itself; a later day is said beside it."""
    until = day.objections_until
    return until.time() if until and until.date() == day.date else None


def _past(day: Day, at: time | None) -> bool:
    """Whether the day's clock has passed *at*; without a time only once the day is over."""
    if day.now.date() != day.date:
        return day.now.date() > day.date
    return at is not None and day.now.time() >= at


def _when(day: Day, at: time | None) -> str:
    """How long it is to the next thing, on the day itself."""
    if at is None or day.now.date() != day.date:
        return "Next."
    minutes = (at.hour - day.now.hour) * 60 + at.minute - day.now.minute
    if minutes <= 0:
        return "Next."
    hours, rest = divmod(minutes, 60)
    parts = [(hours, "hour"), (rest, "minute")]
    return f"Next, in {' '.join(so_many(number, word) for number, word in parts if number)}."


def _anglers(number: int) -> str:
    return so_many(number, "angler")


def _pegs(number: int) -> str:
    return so_many(number, "peg")
