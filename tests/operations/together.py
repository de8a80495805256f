"""
Two secretaries, or six, pressing the same button at the same moment.

Run as `python -m tests.operations.together` with a database of its own (DRAWBAG_DATA or
DATABASE_URL); prints what became of each act as JSON. Threads need a database that is shared as
the site's is, which the one in memory that tests use is not.
"""

from __future__ import annotations

import json
import sys
import threading
import uuid
from collections import Counter
from collections.abc import Callable
from typing import Any

from tests.benchmarks.store import set_up

PEOPLE = 6


def at_once(*acts: Callable[[], object]) -> dict[str, int]:
    """Run every act in a thread of its own, all starting together; how often which came of it."""
    from django.db import connection

    from league.operations.errors import RefusedError

    came: Counter[str] = Counter()
    together, guard = threading.Barrier(len(acts)), threading.Lock()

    def press(act: Callable[[], object]) -> None:
        connection.ensure_connection()
        together.wait()
        try:
            outcome = str(act())
        except RefusedError as refusal:
            outcome = f"refused: {refusal}"
        except Exception as error:
            outcome = f"{type(error).__name__}: {error}"
        finally:
            connection.close()
        with guard:
            came[outcome] += 1

    threads = [threading.Thread(target=press, args=(act,)) for act in acts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return dict(came)


def main() -> dict[str, Any]:
    """Every scene in turn."""
    set_up()
    from django.core.management import call_command

    from league.models import DrawEvent, Entry, Match, Office, Result
    from league.operations.decide import decide
    from league.operations.doors import take_office
    from league.operations.draw import begin, call, finish, freeze, late_entry
    from league.operations.lineup import book_in
    from league.operations.money import announce_pools, take
    from league.operations.money_account import account_of
    from league.operations.payouts import fix_payouts, hand_over, payees
    from league.operations.publish import publish
    from league.operations.weigh import settle
    from league.rules.pools_plan import Plan
    from tests.builders import make_entry, make_fished_match, make_match, make_weigh_in
    from tests.factories import AnglerFactory, ClubFactory, OfficeFactory, UserFactory

    call_command("migrate", verbosity=0)
    club = ClubFactory(slug=f"together-{uuid.uuid4()}")

    match = make_match(club, sections={"A": 20}, drawn=False)
    angler = AnglerFactory(club=club)
    booked = at_once(*[lambda: book_in(match, angler, by=None).number] * PEOPLE)
    others = [AnglerFactory(club=club) for _ in range(PEOPLE)]
    numbers = at_once(
        *[lambda angler=angler: book_in(match, angler, by=None).number for angler in others]
    )

    freeze(match, callers=[1], by=None)

    begun = at_once(*[lambda: begin(match, by=None).number] * PEOPLE)
    event = DrawEvent.objects.get(record__match=match)
    call(event, {1: 4071}, by=None)
    drawn = at_once(*[lambda: finish(event, by=None).seed] * PEOPLE)
    late = AnglerFactory(club=club)
    late_ones = at_once(*[lambda: late_entry(match, late, by=None).number] * PEOPLE)

    fished = make_fished_match(club)
    published = at_once(*[lambda: publish(fished, by=None).version] * PEOPLE)
    entry = fished.entries.get(number=1)
    ours, theirs = make_weigh_in(entry, "9-0"), make_weigh_in(entry, "10-0")
    settled = at_once(
        lambda: len(settle(ours, why="Ours.", by=None)),
        lambda: len(settle(theirs, why="Theirs.", by=None)),
    )
    corrected = at_once(
        *[lambda: publish(fished, by=None, correcting=1, why="Misread.").version] * PEOPLE
    )
    other = make_entry(fished)
    decided = at_once(
        *[lambda: decide(fished, kind="disqualified", entry=other, why="x", by=None).kind] * PEOPLE
    )
    announce_pools(fished, Plan(stake=1000, frame=1000), by=None)
    payer = fished.entries.get(number=1)
    taken = at_once(*[lambda: take(payer, by=None).pence] * PEOPLE)
    fixed = at_once(*[lambda: fix_payouts(fished, by=None).number] * PEOPLE)
    due = payees(account_of(fished))[0]
    handed = at_once(*[lambda: hand_over(fished, due.key, due.due, by=None).pence] * PEOPLE)
    two = [OfficeFactory(club=club, user=UserFactory(), name="secretary") for _ in range(2)]
    offices = at_once(*[lambda office=office: take_office(office, by=None) for office in two])
    return {
        "offices": offices,
        "secretaries": Office.objects.filter(club=club, name="secretary").count(),
        "taken": taken,
        "fixed": fixed,
        "handed": handed,
        "tin": account_of(fished).tin,
        "booked": booked,
        "numbers": sorted(numbers),
        "begun": begun,
        "drawn": drawn,
        "draw_events": DrawEvent.objects.filter(record__match=match, kind="draw").count(),
        "on_pegs": len(
            set(Entry.objects.filter(match=match).values_list("match_peg", flat=True)) - {None}
        ),
        "stage": Match.objects.get(pk=match.pk).stage,
        "late": late_ones,
        "published": published,
        "settled": settled,
        "corrected": corrected,
        "versions": list(Result.objects.of(fished).values_list("version", flat=True)),
        "decided": decided,
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(main()) + "\n")
