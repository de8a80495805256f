"""What is done on a match day, what comes next, and what the secretary is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time

import pytest

from league.rules.stages import Day, State, Step, Task, next_thing, order_of_the_day

MATCH_DAY = date(2027, 2, 14)


def clock(day: int, hour: int, minute: int) -> datetime:
    """What the club's clock shows in February 2027."""
    return datetime(2027, 2, day, hour, minute, tzinfo=UTC)


ROUND = Day(
    title="Round 7",
    date=MATCH_DAY,
    now=clock(14, 7, 0),
    book_in=time(7, 30),
    draw_at=time(8, 30),
    all_in=time(10),
    all_out=time(15),
)
DRAWN = replace(ROUND, booked=3, pegs=3, drawn=True, to_weigh=("41", "42", "44"))
PUBLISHED = replace(
    DRAWN,
    to_weigh=(),
    version=1,
    now=clock(14, 17, 0),
    objections_until=clock(15, 20, 0),
)


def states(day: Day) -> str:
    """The day as a row of marks: x done, > next, . to come."""
    marks = {State.DONE: "x", State.NOW: ">", State.TO_COME: "."}
    return "".join(marks[moment.state] for moment in order_of_the_day(day))


@pytest.mark.parametrize(
    ("day", "marks"),
    [
        (ROUND, ">......"),
        (replace(DRAWN, now=clock(14, 9, 12)), "xx>...."),
        (replace(DRAWN, now=clock(14, 10, 0)), "xxx>..."),
        (replace(DRAWN, now=clock(14, 15, 1)), "xxxx>.."),
        (replace(DRAWN, now=clock(14, 16, 0), to_weigh=()), "xxxxx>."),
        (
            replace(DRAWN, now=clock(14, 16, 0), to_weigh=(), in_question=("42",)),
            "xxxx>..",
        ),
        (PUBLISHED, "xxxxxx>"),
        (replace(PUBLISHED, final=True), "xxxxxxx"),
        (replace(ROUND, cancelled=True), "......."),
    ],
    ids=[
        "before",
        "drawn",
        "all in",
        "all out",
        "weighed",
        "two weights",
        "published",
        "final",
        "cancelled",
    ],
)
def test_the_first_step_that_is_not_done_is_next(day, marks):
    assert states(day) == marks


def test_a_published_result_means_that_all_out_has_been_whatever_the_clock_says():
    early = replace(PUBLISHED, now=clock(14, 6, 0))

    assert states(early) == "xxxxxx>"


@pytest.mark.parametrize(
    ("now", "words"),
    [
        (clock(14, 9, 12), "Next, in 48 minutes."),
        (clock(14, 8, 59), "Next, in 1 hour 1 minute."),
        (clock(14, 8, 0), "Next, in 2 hours."),
        (clock(13, 9, 12), "Next."),
    ],
)
def test_what_is_next_says_how_long_it_is_on_the_day_itself(now, words):
    all_in = order_of_the_day(replace(DRAWN, now=now))[2]

    assert (all_in.step, all_in.when) == (Step.ALL_IN, words)


@pytest.mark.parametrize(
    ("day", "task", "headline"),
    [
        (ROUND, Task.BOOK_IN, "Nobody is booked in for round 7"),
        (replace(ROUND, booked=3), Task.SECTIONS, "Round 7 needs its sections"),
        (replace(ROUND, booked=3, pegs=2), Task.SECTIONS, "Round 7 is short of pegs"),
        (replace(ROUND, booked=3, pegs=3), Task.DRAW, "Round 7 is ready to be drawn"),
        (DRAWN, Task.WEIGH, "Round 7 is drawn"),
        (replace(DRAWN, to_weigh=("44",)), Task.WEIGH, "1 peg still to weigh in round 7"),
        (replace(DRAWN, to_weigh=()), Task.PUBLISH, "Every peg of round 7 is weighed"),
        (
            replace(DRAWN, in_question=("62",), to_weigh=("44",)),
            Task.SETTLE,
            "Peg 62 has two weights",
        ),
        (replace(DRAWN, in_question=("62", "63")), Task.SETTLE, "2 pegs have two weights"),
        (PUBLISHED, Task.WAIT, "Round 7 is published, version 1"),
        (replace(PUBLISHED, to_answer=1), Task.ANSWER, "An objection to round 7 to answer"),
        (
            replace(PUBLISHED, to_answer=2, now=clock(15, 20, 0)),
            Task.ANSWER,
            "2 objections to round 7 to answer",
        ),
        (
            replace(PUBLISHED, changed=True),
            Task.CORRECT,
            "Round 7 has changed since version 1 was published",
        ),
        (
            replace(PUBLISHED, now=clock(15, 20, 0)),
            Task.MAKE_FINAL,
            "Round 7 is ready to be made final",
        ),
        (replace(PUBLISHED, final=True), Task.NOTHING, "Round 7 is final"),
        (replace(ROUND, cancelled=True), Task.NOTHING, "Round 7 is cancelled"),
    ],
)
def test_whoever_takes_over_reads_what_comes_next(day, task, headline):
    thing = next_thing(day)

    assert (thing.task, thing.headline) == (task, headline)


def test_objections_are_heard_until_the_time_that_was_announced():
    assert next_thing(PUBLISHED).lead == (
        "Objections are heard until Monday 20:00. Then it can be made final."
    )


def test_objections_heard_until_tomorrow_have_no_time_in_todays_order():
    waits = replace(PUBLISHED, now=clock(14, 17, 0), objections_until=clock(15, 20, 0))
    tonight = replace(waits, objections_until=clock(14, 20, 0))

    last, today = order_of_the_day(waits)[-1], order_of_the_day(tonight)[-1]

    assert (last.at, last.when) == (None, "Next.")
    assert (today.at, today.when) == (time(20), "Next, in 3 hours.")


def test_only_a_rounds_title_loses_its_capital_inside_a_sentence():
    derby = replace(ROUND, title="Boxing Day Shield")

    assert next_thing(derby).headline == "Nobody is booked in for Boxing Day Shield"
