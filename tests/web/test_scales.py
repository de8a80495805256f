"""The scales: the walk, one peg at a time, slips, limits, two figures, two people at once."""

from __future__ import annotations

import uuid

import pytest
from django.test import Client

from league.models import OfficeName, SetAside, WeighIn
from tests.builders import give_office, make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, ClubFactory, UserFactory


def scene(club, *, pegs: int = 3, **values):
    """A drawn match with an angler on every peg."""
    match = make_match(club, sections={"A": pegs}, **values)
    names = ["Ray Tolliver", "Balvir Sandhar", "Jo Ormesher"]
    entries = [make_entry(match, peg=peg + 1, name=names[peg % 3]) for peg in range(pegs)]
    return match, entries


def url(match, entry=None) -> str:
    return f"/scales/{match.pk}/{f'{entry.pk}/' if entry else ''}"


def weigh(client: Client, match, entry, *nets: str, status: str = "weighed", **more):
    data = {"key": str(uuid.uuid4()), "status": status, "nets": list(nets), **more}
    return client.post(url(match, entry), data)


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_the_walk_lists_every_peg_and_says_how_far_it_has_come(scalesman, club):
    match, (first, second, third) = scene(club)
    make_weigh_in(first, "12-8")
    make_weigh_in(second, "blank")

    shown = said(scalesman.get(url(match)))

    assert "2 of 3 pegs weighed" in shown
    assert "Next without a weight is peg 3, Jo Ormesher." in shown
    assert f'<a class="next" href="/scales/{match.pk}/{third.pk}/">Weigh peg 3</a>' in shown
    assert "12 lb 8 oz" in shown


def test_a_match_that_is_not_drawn_has_no_walk_yet(scalesman, club):
    match = make_match(club, drawn=False)

    assert "Not drawn yet" in said(scalesman.get(url(match)))


def test_a_weight_is_saved_and_the_next_peg_comes_up(scalesman, club):
    match, (first, second, _) = scene(club)

    answer = weigh(scalesman, match, first, "31-6", "14-12")

    assert answer.url == url(match, second)
    kept = WeighIn.objects.get()
    assert kept.entry == first
    assert kept.nets == (31 * 256 + 6 * 16, 14 * 256 + 12 * 16)
    assert kept.weighed_by == scalesman.user
    shown = said(scalesman.get(answer.url))
    assert "Peg 1, Ray Tolliver: 46 lb 2 oz. Saved." in shown
    assert "then peg 3, Jo Ormesher" in shown


def test_after_the_last_peg_comes_the_walk(scalesman, club):
    match, (first, second, third) = scene(club)
    make_weigh_in(first, "12-8")
    make_weigh_in(third, "12-8")

    answer = weigh(scalesman, match, second, "3-2")

    assert answer.url == url(match)
    assert "Every peg is weighed" in said(scalesman.get(answer.url))


def test_the_walk_goes_round_to_a_peg_that_was_passed_over(scalesman, club):
    match, (first, second, third) = scene(club)
    make_weigh_in(second, "1-0")

    assert weigh(scalesman, match, third, "3-2").url == url(match, first)


@pytest.mark.parametrize("status", ["blank", "not weighed", "absent"])
def test_no_weight_is_saved_as_what_became_of_the_angler(scalesman, club, status):
    match, (first, *_) = scene(club)

    weigh(scalesman, match, first, status=status)

    assert (WeighIn.objects.get().status, WeighIn.objects.get().nets) == (status, ())


@pytest.mark.parametrize(
    ("nets", "status", "words"),
    [
        (["12-8", "4-16"], "weighed", "Net 2: &#x27;4-16&#x27;: ounces go from 0 to 15."),
        (["12-8", "twelve"], "weighed", "Net 2: &#x27;twelve&#x27; is no weight in pounds"),
        ([], "weighed", "No net is entered. Type what was read, or choose blank."),
        (["12-8"], "blank", "Blank, yet a net is entered. Choose one of them."),
        (["0-0"], "weighed", "Nothing on the scales is a blank: choose blank."),
    ],
)
def test_a_slip_is_told_in_words_and_nothing_typed_is_lost(scalesman, club, nets, status, words):
    match, (first, *_) = scene(club)

    answer = weigh(scalesman, match, first, *nets, status=status)

    assert answer.status_code == 200
    assert words in said(answer)
    assert [box.typed for box in answer.context["form"].boxes if box.typed] == nets
    assert not WeighIn.objects.exists()


def test_sent_twice_it_is_stored_once(scalesman, club):
    match, (first, second, _) = scene(club)
    key = str(uuid.uuid4())

    answers = [weigh(scalesman, match, first, "12-8", key=key) for _ in range(3)]

    assert {answer.url for answer in answers} == {url(match, second)}
    assert WeighIn.objects.count() == 1


def test_another_figure_under_a_key_that_is_used_up_is_not_lost_silently(scalesman, club):
    match, (first, *_) = scene(club)
    key = str(uuid.uuid4())
    weigh(scalesman, match, first, "12-8", key=key)

    answer = weigh(scalesman, match, first, "21-8", key=key)

    assert "was sent before as Ray Tolliver, 12 lb 8 oz" in said(answer)
    assert [box.typed for box in answer.context["form"].boxes if box.typed] == ["21-8"]
    assert answer.context["form"]["key"].value() != key  # saved again, it is a new entry


def test_a_net_over_the_limit_is_asked_about_and_nothing_is_saved(scalesman, club):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match, (first, *_) = scene(club, season=season)

    answer = weigh(scalesman, match, first, "43-6")

    shown = said(answer)
    assert "This net is over 40 lb" in shown
    assert "40 lb counts, the rest does not" in shown
    assert 'name="nets" value="43-6"' in shown
    assert not WeighIn.objects.exists()


def test_told_that_it_is_right_the_net_is_kept_as_it_was_read(scalesman, club):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match, (first, *_) = scene(club, season=season)
    asked = weigh(scalesman, match, first, "43-6")

    weigh(scalesman, match, first, "43-6", agreed=asked.context["agrees"])

    assert WeighIn.objects.get().nets == (43 * 256 + 6 * 16,)


def test_an_answer_does_not_hold_for_another_figure(scalesman, club):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match, (first, *_) = scene(club, season=season)
    asked = weigh(scalesman, match, first, "43-6")

    again = weigh(scalesman, match, first, "48-6", agreed=asked.context["agrees"])

    assert "48 lb 6 oz is 8 lb 6 oz over the limit" in said(again)
    assert not WeighIn.objects.exists()


@pytest.mark.parametrize(("answer", "opens"), [("two nets", "new"), ("again", "1")])
def test_from_the_question_back_to_the_keys_with_everything_typed(scalesman, club, answer, opens):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match, (first, *_) = scene(club, season=season)

    back = weigh(scalesman, match, first, "43-6", answer=answer, net="1")

    assert f'data-opens="{opens}"' in said(back)
    assert 'value="43-6"' in said(back)


def test_another_box_can_be_asked_for_without_a_script(scalesman, club):
    match, (first, *_) = scene(club)

    answer = weigh(scalesman, match, first, "1-0", "2-0", "3-0", more="1")

    assert [box.typed for box in answer.context["form"].boxes] == ["1-0", "2-0", "3-0", ""]


def test_kilograms_are_typed_and_said_in_kilograms(scalesman, club):
    match, (first, *_) = scene(club, unit="kg")

    answer = weigh(scalesman, match, first, "5,64")

    assert WeighIn.objects.get().nets == (5640,)
    shown = said(scalesman.get(answer.url))
    assert "5.640 kg. Saved." in shown
    assert 'data-unit="kg"' in shown
    assert 'aria-label="Grams, three figures"' in shown


def test_two_pairs_at_one_peg_are_both_kept_and_shown(club):
    match, (first, *_) = scene(club)
    pairs = []
    for name in ("ken", "sam"):
        user = UserFactory(username=name)
        give_office(club, user, OfficeName.SCALES)
        client = Client()
        client.force_login(user)
        client.get(url(match, first))  # both have the page open
        pairs.append(client)

    weigh(pairs[0], match, first, "17-13")
    answer = weigh(pairs[1], match, first, "17-3")

    assert answer.url == url(match, first)
    shown = said(pairs[1].get(answer.url))
    assert "Peg 1 has two weights" in shown
    assert "17 lb 13 oz<small>ken," in shown
    assert "17 lb 3 oz<small>You," in shown


def test_the_same_figure_twice_agrees_and_is_no_question(scalesman, club):
    match, (first, second, _) = scene(club)
    make_weigh_in(first, "17-13")

    assert weigh(scalesman, match, first, "17-13").url == url(match, second)
    assert "Weighed twice with the same figure." in said(scalesman.get(url(match, first)))


def test_one_of_two_figures_is_said_to_stand_and_why(scalesman, club):
    match, (first, second, _) = scene(club)
    wrong, right = make_weigh_in(first, "17-13"), make_weigh_in(first, "17-3")

    answer = scalesman.post(
        f"{url(match, first)}stand/", {"keep": right.pk, "why": "The paper sheet says so."}
    )

    assert answer.url == url(match, second)
    aside = SetAside.objects.get()
    assert (aside.weigh_in, aside.why) == (wrong, "The paper sheet says so.")


def test_without_a_reason_neither_figure_is_set_aside(scalesman, club):
    match, (first, *_) = scene(club)
    make_weigh_in(first, "17-13")
    right = make_weigh_in(first, "17-3")

    answer = scalesman.post(f"{url(match, first)}stand/", {"keep": right.pk, "why": " "})

    assert "Say why: the other figure is kept with its reason." in said(answer)
    assert not SetAside.objects.exists()


def test_a_figure_settled_meanwhile_is_told_and_the_reason_kept(scalesman, club):
    match, (first, *_) = scene(club)
    gone, stands = make_weigh_in(first, "17-13"), make_weigh_in(first, "17-3")
    make_weigh_in(first, "17-1")
    scalesman.post(f"{url(match, first)}stand/", {"keep": stands.pk, "why": "Paper."})

    answer = scalesman.post(f"{url(match, first)}stand/", {"keep": gone.pk, "why": "Seen it."})

    assert "That figure does not stand any more. Look again." in said(answer)
    assert 'value="Seen it."' in said(answer)


def test_a_peg_that_is_weighed_is_shown_before_it_is_weighed_again(scalesman, club):
    match, (first, *_) = scene(club)
    make_weigh_in(first, "17-13")

    assert "17 lb 13 oz" in said(scalesman.get(url(match, first)))
    assert "A second figure is kept beside it." in said(
        scalesman.get(f"{url(match, first)}?again=1")
    )


def test_a_stranger_is_asked_to_sign_in(stranger, club):
    match, (first, *_) = scene(club)

    for address in (url(match), url(match, first)):
        answer = stranger.get(address)
        assert answer.status_code == 302
        assert answer.url.startswith("/sign-in/")


def test_for_a_member_without_the_office_there_are_no_scales(member, treasurer, club):
    match, (first, *_) = scene(club)

    for client in (member, treasurer):
        assert client.get(url(match)).status_code == 404
        assert weigh(client, match, first, "12-8").status_code == 404
    assert not WeighIn.objects.exists()


def test_the_scales_of_another_club_do_not_exist(scalesman):
    match, (first, *_) = scene(ClubFactory())

    assert scalesman.get(url(match)).status_code == 404
    assert weigh(scalesman, match, first, "12-8").status_code == 404


def test_an_angler_without_a_peg_cannot_be_weighed(scalesman, club):
    match, _ = scene(club)
    late = make_entry(match, angler=AnglerFactory(club=club))

    assert weigh(scalesman, match, late, "12-8").status_code == 404


# the session, the member, the match, the entries, their weigh-ins, who weighed, the offices
@pytest.mark.parametrize("anglers", [3, 30])
def test_the_walk_asks_the_same_questions_however_many_pegs(
    scalesman, club, anglers, django_assert_num_queries
):
    match, entries = scene(club, pegs=anglers)
    for entry in entries:
        make_weigh_in(entry, "1-0", weighed_by=scalesman.user)

    with django_assert_num_queries(7):
        scalesman.get(url(match))


@pytest.mark.parametrize("anglers", [3, 30])
def test_a_peg_asks_the_same_questions_however_long_the_walk(
    scalesman, club, anglers, django_assert_num_queries
):
    match, entries = scene(club, pegs=anglers)
    for entry in entries[1:]:
        make_weigh_in(entry, "1-0", weighed_by=scalesman.user)

    with django_assert_num_queries(7):
        scalesman.get(url(match, entries[0]))


@pytest.mark.parametrize("anglers", [3, 30])
def test_a_weight_saved_with_a_sign_in_costs_the_same_however_long_the_walk(
    scalesman, club, anglers, django_assert_num_queries
):
    match, entries = scene(club, pegs=anglers)
    for entry in entries[1:]:
        make_weigh_in(entry, "1-0", weighed_by=scalesman.user)

    # the session, the member, the match; the walk: entries, weigh-ins, who weighed; earlier
    # matches; begin, hold the peg, insert, end; the peg's figures afresh
    with django_assert_num_queries(12):
        weigh(scalesman, match, entries[0], "1-2")


def test_a_weight_far_from_the_rest_is_asked_about_and_kept_when_it_is_right(scalesman, club):
    match, entries = scene(club, pegs=8)
    for entry, figure in zip(
        entries, ["2-8", "3-0", "2-4", "3-8", "2-12", "1-12", "3-4"], strict=False
    ):
        make_weigh_in(entry, figure)

    asked = weigh(scalesman, match, entries[7], "33-8")
    kept = WeighIn.objects.filter(entry=entries[7]).count()
    weigh(scalesman, match, entries[7], "33-8", agreed=f"far-{33 * 256 + 128}")

    assert "33 lb 8 oz is a long way over the usual" in said(asked)
    assert "It was 3 lb 8 oz" in said(asked)
    assert kept == 0
    assert WeighIn.objects.get(entry=entries[7]).nets == (33 * 256 + 128,)


def test_a_kilogram_reading_in_a_pounds_match_is_refused_with_the_pounds_it_makes(scalesman, club):
    match, (first, *_) = scene(club)

    shown = said(weigh(scalesman, match, first, "5.640"))

    assert "Was it 12-6-15 (read off a kilogram scale as 5.640)?" in shown
    assert not WeighIn.objects.exists()
