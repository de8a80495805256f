"""What phones send: kept once whatever is resent or reordered, and two figures told apart."""

from __future__ import annotations

import datetime as dt
import itertools
from uuid import UUID, uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from league.models import Entry, SetAside, Stage, WeighIn
from league.operations.facts import standing
from league.operations.passes import let_in, make_pass
from league.operations.receive import Found, Result, Sent, heard_from, receive
from league.operations.weigh import settle
from league.rules.lines import Status
from league.rules.walks import Walk
from league.rules.weights import Unit, Weight
from tests.builders import make_entry, make_match
from tests.examples import tried

pytestmark = pytest.mark.django_db


def drams(typed: str) -> tuple[int, ...]:
    return (Weight.parse(typed, Unit.LB_OZ).amount,)


@pytest.fixture
def match():
    match = make_match(sections={"A": 2})
    make_entry(match, peg=1, name="Keith Wraggley")
    make_entry(match, peg=2)
    return match


@pytest.fixture
def entry(match):
    return match.entries.get(match_peg__peg__number="1")


def phone_at(match, name="Len"):
    _, secret = make_pass(match, name=name, walk=Walk(), by=None)
    return let_in(match.pk, secret, name=name)[0]


def sent(entry, figure="12-8", **values):
    status = Status.WEIGHED if figure[0].isdigit() else Status(figure)
    nets = drams(figure) if figure[0].isdigit() else ()
    peg = entry.match_peg.peg.number
    return Sent(
        **{"key": uuid4(), "seq": 1, "entry": entry.pk, "peg": peg, "status": status, "nets": nets}
        | values
    )


def figures(entry):
    return [each.figure for each in standing(Entry.objects.get(pk=entry.pk)).figures]


def test_a_weight_is_kept_with_who_read_it_where_and_when(match, entry):
    phone = phone_at(match)
    read = dt.datetime(2027, 1, 24, 15, 31, tzinfo=dt.UTC)

    [answer] = receive(phone, [sent(entry, read_at=read, seq=7)], skew=86_400)

    kept = WeighIn.objects.get()
    assert (answer.result, answer.found) == (Result.CREATED, Found.APPLIED)
    assert (kept.phone, kept.device, kept.seq, kept.read_at) == (phone, "Len", 7, read)
    assert kept.clock_skew == 86_400
    assert kept.weighed_by is None


def test_sent_three_times_it_is_kept_once(match, entry):
    phone = phone_at(match)
    weight = sent(entry)

    answers = [receive(phone, [weight])[0].result for _ in range(3)]

    assert answers == [Result.CREATED, Result.DUPLICATE, Result.DUPLICATE]
    assert WeighIn.objects.count() == 1


def test_three_times_in_one_batch_it_is_kept_once_too(match, entry):
    weight = sent(entry)

    answers = receive(phone_at(match), [weight, weight, weight])

    assert [each.result for each in answers] == [Result.CREATED, *[Result.DUPLICATE] * 2]
    assert WeighIn.objects.count() == 1


def test_one_bad_entry_does_not_hold_up_the_others(match, entry):
    other = match.entries.get(match_peg__peg__number="2")
    bad = sent(entry, nets=(10**9,), seq=1)

    refused, kept = receive(phone_at(match), [bad, sent(other, "3-2", seq=2)])

    assert refused.result is Result.REJECTED
    assert refused.words.endswith("is more than one net can weigh. Read it again.")
    assert kept.result is Result.CREATED
    assert figures(other) == [("weighed", drams("3-2"))]


def test_two_phones_two_figures_both_are_kept_and_somebody_is_asked(match, entry):
    first = receive(phone_at(match, "Len"), [sent(entry, "17-13")])[0]
    second = receive(phone_at(match, "Ken"), [sent(entry, "17-3")])[0]

    assert (first.found, second.found) == (Found.APPLIED, Found.CONFLICT)
    assert second.words == (
        "Peg 1 has two weights, 17 lb 13 oz or 17 lb 3 oz. "
        "Both are kept until somebody says which stands."
    )
    assert standing(entry).in_question
    assert figures(entry) == [("weighed", drams("17-13")), ("weighed", drams("17-3"))]


def test_two_phones_one_figure_is_agreement(match, entry):
    receive(phone_at(match, "Len"), [sent(entry, "17-13")])
    second = receive(phone_at(match, "Ken"), [sent(entry, "17-13")])[0]

    assert second.found is Found.SAME
    assert standing(entry).checked


def test_a_blank_beside_a_weight_is_a_question_too(match, entry):
    receive(phone_at(match, "Len"), [sent(entry, "blank")])

    assert receive(phone_at(match, "Ken"), [sent(entry, "0-4")])[0].found is Found.CONFLICT


def test_a_phones_own_correction_sets_its_first_figure_aside_with_the_reason(match, entry):
    phone = phone_at(match)
    slip = sent(entry, "33-8", seq=1)
    right = sent(entry, "3-8", seq=2, corrects=slip.key, note="Typed a 3 too many")

    answers = receive(phone, [slip, right])

    assert [each.found for each in answers] == [Found.APPLIED, Found.CORRECTED]
    assert figures(entry) == [("weighed", drams("3-8"))]
    assert SetAside.objects.get().why == "Corrected at the scales: Typed a 3 too many"
    assert WeighIn.objects.count() == 2


def test_the_correction_may_come_first(match, entry):
    phone = phone_at(match)
    slip = sent(entry, "33-8", seq=1)
    right = sent(entry, "3-8", seq=2, corrects=slip.key, note="Typed a 3 too many")

    receive(phone, [right])
    answer = receive(phone, [slip])[0]

    assert answer.found is Found.CORRECTED
    assert figures(entry) == [("weighed", drams("3-8"))]


def test_nobody_corrects_another_pairs_figure_from_the_bank(match, entry):
    theirs = sent(entry, "17-13")
    receive(phone_at(match, "Len"), [theirs])

    mine = sent(entry, "17-3", corrects=theirs.key, note="They misread it")
    answer = receive(phone_at(match, "Ken"), [mine])[0]

    assert answer.found is Found.CONFLICT
    assert len(figures(entry)) == 2


def test_what_was_set_aside_by_the_secretary_is_not_brought_back_by_a_late_correction(match, entry):
    phone = phone_at(match, "Len")
    slip = sent(entry, "33-8", seq=1)
    receive(phone, [slip])
    receive(phone_at(match, "Ken"), [sent(entry, "4-0")])
    settle(WeighIn.objects.get(nets=list(drams("4-0"))), why="The paper says so", by=None)

    late = sent(entry, "3-8", seq=2, corrects=slip.key, note="Typed a 3 too many")
    answer = receive(phone, [late])[0]

    # another figure again: somebody is asked, nothing is decided by who came last
    assert answer.found is Found.CONFLICT
    assert figures(entry) == [("weighed", drams("4-0")), ("weighed", drams("3-8"))]


def test_after_the_final_result_a_weight_is_kept_as_late_and_not_counted(match, entry):
    phone = phone_at(match)
    receive(phone, [sent(entry, "12-8")])
    match.stage = Stage.FINAL
    match.save()

    answer = receive(phone, [sent(entry, "14-0", seq=2)])[0]

    assert (answer.result, answer.found) == (Result.CREATED, Found.LATE)
    assert figures(entry) == [("weighed", drams("12-8"))]
    assert WeighIn.objects.count() == 2
    assert SetAside.objects.get().why == "Came after the result was final: kept, not counted."


def test_in_a_cancelled_match_it_is_refused_in_words(match, entry):
    phone = phone_at(match)
    match.stage = Stage.CANCELLED
    match.save()

    [answer] = receive(phone, [sent(entry)])

    assert answer.result is Result.REJECTED
    assert answer.words == "The match is cancelled, so nothing is weighed."


def test_a_figure_read_at_another_peg_than_the_anglers_is_refused(match, entry):
    [answer] = receive(phone_at(match), [sent(entry, peg="2")])

    assert answer.result is Result.REJECTED
    assert answer.words == (
        "Keith Wraggley is on peg 1, not 2: the draw has changed. "
        "Look who sits on peg 2 and enter the weight there."
    )


def test_an_entry_of_another_match_is_refused(match, entry):
    elsewhere = make_entry(make_match(), peg=1)

    [answer] = receive(phone_at(match), [sent(elsewhere)])

    assert (answer.result, answer.words) == (
        Result.REJECTED,
        "This angler is not in this match.",
    )


def test_a_key_used_for_another_angler_is_refused_and_the_first_is_kept(match, entry):
    other = match.entries.get(match_peg__peg__number="2")
    phone = phone_at(match)
    first = sent(entry, "12-8")
    receive(phone, [first])

    [answer] = receive(phone, [sent(other, "3-0", key=first.key, seq=2)])

    assert answer.result is Result.REJECTED
    assert "This entry was sent before as Keith Wraggley, 12 lb 8 oz" in answer.words
    assert figures(other) == []


def test_a_number_used_twice_is_kept_twice_and_shown(match, entry):
    """A phone put back from an old copy counts on from the copy."""
    other = match.entries.get(match_peg__peg__number="2")
    phone = phone_at(match)

    answers = receive(phone, [sent(entry, seq=3)]) + receive(phone, [sent(other, seq=3)])

    assert [each.result for each in answers] == [Result.CREATED] * 2
    assert WeighIn.objects.counted_twice(match) == {phone.pk}


def test_what_a_phone_says_of_itself_is_kept(match):
    phone = phone_at(match)
    at = dt.datetime(2027, 1, 24, 16, 0, tzinfo=dt.UTC)

    heard_from(phone, waiting=7, skew=5_000_000_000, last_seq=12, at=at)

    phone.refresh_from_db()
    assert (phone.waiting, phone.clock_skew, phone.last_seq) == (7, 5_000_000_000, 12)
    assert phone.last_seen_at == at


def test_the_same_news_a_moment_later_is_not_written_again(match, django_assert_num_queries):
    phone = phone_at(match)
    at = dt.datetime(2027, 1, 24, 16, 0, tzinfo=dt.UTC)
    heard_from(phone, waiting=0, skew=0, last_seq=12, at=at)

    with django_assert_num_queries(0):
        heard_from(phone, waiting=0, skew=1, last_seq=13, at=at + dt.timedelta(seconds=10))


def test_a_queue_that_grows_or_half_a_minute_is_news(match):
    phone = phone_at(match)
    at = dt.datetime(2027, 1, 24, 16, 0, tzinfo=dt.UTC)
    heard_from(phone, waiting=0, skew=0, last_seq=12, at=at)

    heard_from(phone, waiting=2, skew=0, last_seq=14, at=at + dt.timedelta(seconds=5))
    phone.refresh_from_db()
    grown = phone.waiting, phone.last_seq
    heard_from(phone, waiting=2, skew=0, last_seq=15, at=at + dt.timedelta(seconds=36))
    phone.refresh_from_db()

    assert grown == (2, 14)
    assert phone.last_seq == 15


def test_a_weight_costs_two_questions_and_an_insert(match, entry, django_assert_num_queries):
    phone, weight = phone_at(match), sent(entry)

    with django_assert_num_queries(5):  # begin, hold the peg, its figures, insert, end
        receive(phone, [weight])


KEYS = [UUID(int=n) for n in range(1, 9)]


@settings(tried(15, 60), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_whatever_is_resent_and_however_it_is_ordered_the_same_figures_stand(match, entry, data):
    """Two phones, each with a figure, a correction of it and a correction of that."""
    WeighIn.objects.all().delete()
    phones = [phone_at(match, "Len"), phone_at(match, "Ken")]
    entries = []
    for who, phone in enumerate(phones):
        before = None
        for turn in range(3):
            key = KEYS[3 * who + turn]
            nets = (256 * (1 + 3 * who + turn),)
            weight = sent(
                entry, key=key, seq=turn, nets=nets, corrects=before, note="Read it again"
            )
            entries.append((phone, weight))
            before = key
    posted = data.draw(st.permutations(entries + data.draw(st.lists(st.sampled_from(entries)))))

    for phone, weight in posted:
        receive(phone, [weight])

    # the last of each phone: three pounds from Len, six from Ken
    assert sorted(figures(entry)) == [("weighed", (768,)), ("weighed", (1536,))]
    assert WeighIn.objects.count() == 6
    assert SetAside.objects.count() == 4


def test_every_order_of_a_correction_and_a_check_weigh_ends_the_same(match, entry):
    ends = set()
    phones = {"Len": phone_at(match, "Len"), "Ken": phone_at(match, "Ken")}
    for order in itertools.permutations(range(3)):
        WeighIn.objects.all().delete()
        slip = sent(entry, "33-8", seq=1)
        posts = [
            ("Len", slip),
            ("Len", sent(entry, "3-8", seq=2, corrects=slip.key, note="A 3 too many")),
            ("Ken", sent(entry, "3-8")),
        ]
        for place in order:
            who, weight = posts[place]
            receive(phones[who], [weight])
        ends.add((tuple(sorted(figures(entry))), standing(entry).checked))

    assert ends == {((("weighed", drams("3-8")), ("weighed", drams("3-8"))), True)}
