"""The scales: exactly once, two figures kept, one set aside, slips refused in words."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from uuid import uuid4

import pytest
from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Club, Entry, Match, SetAside, Stage, WeighIn
from league.operations.errors import RefusedError
from league.operations.facts import standing
from league.operations.weigh import record_weigh_in, say_figure, set_aside, settle
from league.rules.lines import Status
from league.rules.weights import Unit
from tests.builders import make_entry, make_match, make_weigh_in

# 12 lb 8 oz in drams: (12 x 16 + 8) x 16.
TWELVE_EIGHT = 3200


@pytest.fixture
def match(club: Club) -> Match:
    return make_match(club, sections={"A": 3})


@pytest.fixture
def entry(match: Match) -> Entry:
    return make_entry(match, peg=1, name="Dave Scrimshire")


def test_a_weigh_in_is_kept_with_who_read_it_where_and_when(entry: Entry, sam: User) -> None:
    read_at = dt.datetime(2027, 1, 24, 15, 5, tzinfo=dt.UTC)
    key = uuid4()

    recorded = record_weigh_in(
        entry,
        key=key,
        status=Status.WEIGHED,
        nets=[TWELVE_EIGHT, 100],
        by=sam,
        note="Wet sling.",
        device="Sam's phone",
        read_at=read_at,
    )

    kept = WeighIn.objects.get()
    assert recorded.created
    assert recorded.weigh_in == kept
    assert (kept.key, kept.entry, kept.status, kept.nets) == (
        key,
        entry,
        "weighed",
        (TWELVE_EIGHT, 100),
    )
    assert (kept.weighed_by, kept.note, kept.device, kept.read_at) == (
        sam,
        "Wet sling.",
        "Sam's phone",
        read_at,
    )
    assert timezone.now() - kept.received_at < dt.timedelta(minutes=1)


def test_sent_twice_it_is_kept_once(entry: Entry, sam: User) -> None:
    key = uuid4()
    first = record_weigh_in(
        entry, key=key, status=Status.WEIGHED, nets=[TWELVE_EIGHT], by=sam, device="one"
    )

    again = record_weigh_in(
        entry, key=key, status=Status.WEIGHED, nets=(TWELVE_EIGHT,), by=None, device="another"
    )

    assert (first.created, again.created) == (True, False)
    assert again.weigh_in == first.weigh_in
    assert WeighIn.objects.get().device == "one"


def test_sent_again_after_it_was_set_aside_it_stays_aside(entry: Entry, sam: User) -> None:
    key = uuid4()
    first = record_weigh_in(entry, key=key, status=Status.BLANK, by=sam).weigh_in
    set_aside(first, why="Wrong peg.", by=sam)

    again = record_weigh_in(entry, key=key, status=Status.BLANK, by=sam)

    assert not again.created
    assert standing(Entry.objects.get(pk=entry.pk)).weigh_in is None


@pytest.mark.parametrize(
    ("status", "nets"), [(Status.WEIGHED, [TWELVE_EIGHT + 1]), (Status.BLANK, [])]
)
def test_a_key_used_for_another_figure_is_refused(
    entry: Entry, sam: User, status: Status, nets: list[int]
) -> None:
    key = uuid4()
    record_weigh_in(entry, key=key, status=Status.WEIGHED, nets=[TWELVE_EIGHT], by=sam)

    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(entry, key=key, status=status, nets=nets, by=sam)

    assert str(refusal.value) == (
        "This entry was sent before as Dave Scrimshire, 12 lb 8 oz, and that is kept. "
        "Enter the other figure again, as a new one."
    )
    assert WeighIn.objects.get().nets == (TWELVE_EIGHT,)


def test_a_key_used_for_another_angler_is_refused(match: Match, entry: Entry, sam: User) -> None:
    key = uuid4()
    record_weigh_in(entry, key=key, status=Status.BLANK, by=sam)

    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(make_entry(match, peg=2), key=key, status=Status.BLANK, by=sam)

    assert "was sent before as Dave Scrimshire, blank" in str(refusal.value)


def test_two_different_figures_are_both_kept_and_the_peg_is_in_question(
    entry: Entry, sam: User
) -> None:
    first = record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[100], by=sam)
    second = record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[200], by=sam)

    stands = standing(entry)
    assert stands.figures == (first.weigh_in, second.weigh_in)
    assert stands.weigh_in == first.weigh_in
    assert stands.in_question
    assert not stands.checked


def test_the_same_figure_again_is_a_check_weigh_and_agrees(entry: Entry, sam: User) -> None:
    for _ in range(2):
        record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[100], by=sam)

    assert not standing(entry).in_question
    assert standing(entry).checked


def test_nets_in_another_order_are_another_reading(entry: Entry, sam: User) -> None:
    record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[100, 200], by=sam)
    record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[200, 100], by=sam)

    assert standing(entry).in_question


@pytest.mark.parametrize(
    ("status", "nets", "words"),
    [
        (Status.WEIGHED, [], "No net is entered. Enter each net's weight, or choose blank."),
        (Status.WEIGHED, [0], "Nothing on the scales is a blank: choose blank."),
        (Status.WEIGHED, [True], "True is no reading: a net is a whole number of drams or grams."),
        (Status.WEIGHED, [1.5], "1.5 is no reading: a net is a whole number of drams or grams."),
        (Status.WEIGHED, ["12"], "'12' is no reading: a net is a whole number of drams or grams."),
        (Status.WEIGHED, [-1], "A net cannot weigh less than nothing. Read it again."),
        (Status.WEIGHED, [256000], "1000 lb 0 oz is more than one net can weigh. Read it again."),
        (Status.WEIGHED, [1] * 21, "21 nets are entered; at most 20 can be."),
        (Status.BLANK, [100], "Blank has no weight: take the nets out."),
        (Status.ABSENT, [100], "Absent has no weight: take the nets out."),
        (
            Status.DISQUALIFIED,
            [],
            "The scales do not disqualify anybody. Weigh the fish; "
            "the match secretary decides on the match's page.",
        ),
        (
            "lost",
            [],
            "'lost' is no status. Choose weighed, blank, not weighed, withdrew or absent.",
        ),
    ],
)
def test_what_no_scale_reads_is_refused(
    entry: Entry, sam: User, status: Status, nets: list[int], words: str
) -> None:
    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(entry, key=uuid4(), status=status, nets=nets, by=sam)

    assert str(refusal.value) == words
    assert not WeighIn.objects.exists()


def test_the_largest_readings_are_kept(club: Club, sam: User) -> None:
    for unit, largest in [(Unit.LB_OZ, 255999), (Unit.KG, 999999)]:
        match = make_match(club, unit=unit)
        number = match.match_pegs.first().peg.number
        entry = make_entry(match, peg=number)
        record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[largest], by=sam)
        with pytest.raises(RefusedError):
            record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[largest + 1], by=sam)

    assert [each.nets for each in WeighIn.objects.order_by("pk")] == [(255999,), (999999,)]


@pytest.mark.parametrize(
    "status", [Status.BLANK, Status.NOT_WEIGHED, Status.WITHDREW, Status.ABSENT, Status.VACANT]
)
def test_a_status_stands_in_place_of_a_weight(entry: Entry, sam: User, status: Status) -> None:
    record_weigh_in(entry, key=uuid4(), status=status, by=sam)

    assert WeighIn.objects.get().figure == (status.value, ())


def test_a_weight_taken_before_leaving_is_kept(entry: Entry, sam: User) -> None:
    kept = record_weigh_in(
        entry, key=uuid4(), status=Status.WITHDREW, nets=[TWELVE_EIGHT], by=sam
    ).weigh_in

    assert say_figure(kept, Unit.LB_OZ) == "12 lb 8 oz, then withdrew"


def test_an_angler_without_a_peg_cannot_be_weighed(match: Match, sam: User) -> None:
    entry = make_entry(match, name="Keith Wraggley")

    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(entry, key=uuid4(), status=Status.BLANK, by=sam)

    assert str(refusal.value) == (
        "Keith Wraggley has no peg, so there is nothing to weigh. Draw a peg first, or look "
        "whether another angler was meant."
    )


def test_an_angler_withdrawn_before_the_draw_cannot_be_weighed(match: Match, sam: User) -> None:
    entry = make_entry(match, name="Keith Wraggley", withdrawn_at=timezone.now())

    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(entry, key=uuid4(), status=Status.BLANK, by=sam)

    assert str(refusal.value).startswith("Keith Wraggley was withdrawn before the draw.")


def test_nothing_is_weighed_in_a_cancelled_match(match: Match, entry: Entry, sam: User) -> None:
    match.stage = Stage.CANCELLED
    match.save()

    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(entry, key=uuid4(), status=Status.BLANK, by=sam)

    assert str(refusal.value) == "The match is cancelled, so nothing is weighed."


def test_a_phone_that_comes_late_loses_nothing(match: Match, entry: Entry, sam: User) -> None:
    match.stage = Stage.FINAL
    match.save()

    assert record_weigh_in(entry, key=uuid4(), status=Status.BLANK, by=sam).created


def test_a_note_that_does_not_fit_is_refused_not_cut(entry: Entry, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        record_weigh_in(entry, key=uuid4(), status=Status.BLANK, by=sam, note="x" * 201)

    assert str(refusal.value) == "The note has 201 letters; 200 fit. Shorten it."


def test_a_figure_set_aside_stays_readable_with_its_reason(
    entry: Entry, sam: User, journal: Callable[[], list[str]]
) -> None:
    weigh_in = make_weigh_in(entry, "12-8")

    aside = set_aside(weigh_in, why=" Read off the wrong net. ", by=sam)

    assert (aside.weigh_in, aside.why, aside.by) == (weigh_in, "Read off the wrong net.", sam)
    assert WeighIn.objects.get().nets == (TWELVE_EIGHT,)
    assert journal() == ["Dave Scrimshire: 12 lb 8 oz set aside. Read off the wrong net."]


def test_a_figure_is_set_aside_once_and_with_a_reason(entry: Entry, sam: User) -> None:
    weigh_in = make_weigh_in(entry)
    for why, words in [
        (" ", "Say why the figure does not stand."),
        ("x" * 201, "The reason has 201 letters; 200 fit. Shorten it."),
    ]:
        with pytest.raises(RefusedError) as refusal:
            set_aside(weigh_in, why=why, by=sam)
        assert str(refusal.value) == words

    set_aside(weigh_in, why="Misread.", by=sam)
    with pytest.raises(RefusedError) as twice:
        set_aside(weigh_in, why="Misread.", by=sam)

    assert str(twice.value) == "This figure was set aside already; look again."
    assert SetAside.objects.count() == 1


def test_of_two_figures_the_one_that_stands_is_said(entry: Entry, sam: User) -> None:
    wrong, right, agreeing = (
        make_weigh_in(entry, "12-8"),
        make_weigh_in(entry, "12-9"),
        make_weigh_in(entry, "12-9"),
    )

    asides = settle(right, why="Weighed again.", by=sam)

    assert [aside.weigh_in for aside in asides] == [wrong]
    assert standing(Entry.objects.get(pk=entry.pk)).figures == (right, agreeing)


def test_there_is_nothing_to_settle_where_one_figure_stands(entry: Entry, sam: User) -> None:
    only = make_weigh_in(entry)

    with pytest.raises(RefusedError) as refusal:
        settle(only, why="Sure.", by=sam)

    assert str(refusal.value) == (
        "No other figure stands for this peg: there is nothing to settle."
    )


def test_whoever_settles_second_looks_again(entry: Entry, sam: User) -> None:
    ours, theirs = make_weigh_in(entry, "12-8"), make_weigh_in(entry, "12-9")
    settle(theirs, why="Weighed again.", by=sam)

    with pytest.raises(RefusedError) as refusal:
        settle(ours, why="Weighed again.", by=sam)

    assert str(refusal.value) == "This figure was set aside meanwhile; look again."


@pytest.mark.parametrize(
    ("figure", "said"),
    [
        ("12-8", "12 lb 8 oz"),
        ("48-12 + 31-4", "80 lb 0 oz"),
        ("blank", "blank"),
        ("not weighed", "did not weigh"),
        ("absent", "absent"),
    ],
)
def test_a_figure_is_said_as_it_was_read(entry: Entry, figure: str, said: str) -> None:
    assert say_figure(make_weigh_in(entry, figure), Unit.LB_OZ) == said


@pytest.mark.django_db(transaction=True)
def test_a_weigh_in_costs_four_statements(
    entry: Entry, sam: User, django_assert_num_queries: Callable[[int], object]
) -> None:
    # BEGIN, the entry held, the weigh-in written, COMMIT. With the look-up of a phone's token
    # before them that is five, the most a weigh-in may cost.
    with django_assert_num_queries(4):  # type: ignore[attr-defined]
        record_weigh_in(entry, key=uuid4(), status=Status.WEIGHED, nets=[100], by=sam)
