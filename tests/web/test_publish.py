"""Before a result is published: the page as it will be, what is missing, who is told."""

from __future__ import annotations

import pytest
from django.core import mail
from django.db import connection
from django.test.utils import CaptureQueriesContext

from league.models import Act, Angler, Result
from league.operations.digest import ask_for_results
from league.operations.publish import publish
from tests.builders import make_entry, make_fished_match, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory
from tests.web.reading import read

EVEN = {"A": ["2-8", "3-0", "2-12"]}


@pytest.fixture
def match(club):
    return make_fished_match(club, weights=EVEN, name="Autumn Open")


@pytest.fixture
def asked(club):
    """Somebody who has asked for results, and somebody with an address who has not."""
    AnglerFactory(club=club, name="Sue Hadlowe", email="sue@example.org")
    return AnglerFactory(
        club=club, name="Keith Wraggley", email="keith@example.org", results_by_email=True
    )


def address(match):
    return f"/matches/{match.pk}/run/publish/"


def test_the_preview_is_the_page_that_is_published(secretary, stranger, match):
    before = read(secretary.get(address(match)))
    secretary.post(address(match), {"correcting": ""})
    after = read(stranger.get(f"/matches/{match.pk}/result/"))

    # From the headline to the last section, word for word; what comes after is about versions.
    shown = after.words.partition(" Versions")[0]
    assert "Section by section" in shown
    assert shown.replace("Provisional, version 1", "") in before.words.replace(
        "Provisional, version 1", ""
    )
    assert before.table(0) == after.table(0)


def test_looking_publishes_nothing_and_tells_nobody(secretary, match, asked):
    page = read(secretary.get(address(match)))

    assert "Below: the page exactly as members will see it" in page.words
    assert "Asked for results by e-mail: Keith Wraggley." in page.words
    assert not Result.objects.exists()
    assert mail.outbox == []


def test_it_says_who_can_read_it_and_whose_names_are_held_back(secretary, club, match):
    Angler.objects.filter(entries__match=match, entries__number=1).update(
        name="Tom Kettleby", junior=True
    )
    public = read(secretary.get(address(match))).words
    club.public = False
    club.save(update_fields=["public"])
    private = read(secretary.get(address(match))).words

    assert "Everybody: the club’s pages are public." in public
    assert "Members who sign in" in private
    assert "Not in full, for want of consent or by their own wish: Tom K. (junior)." in public
    assert "Kettleby" not in public


def test_looking_costs_the_same_questions_however_many_pegs_there_are(
    secretary, club, django_assert_num_queries
):
    few = make_fished_match(club, weights={"A": ["3-0"] * 3})
    many = make_fished_match(club, weights={"A": ["3-0"] * 30})
    with CaptureQueriesContext(connection) as asked:
        secretary.get(address(few))

    with django_assert_num_queries(len(asked)):
        secretary.get(address(many))


# ---- what is missing ---------------------------------------------------------------------------


def test_a_peg_not_weighed_is_named_and_publishing_is_refused_until_it_is_confirmed(
    secretary, club
):
    match = make_match(club, sections={"A": 2})
    make_weigh_in(make_entry(match, peg=1), "3-0")
    make_entry(match, peg=2, name="Ana Ferradas")

    shown = read(secretary.get(address(match)))
    refused = read(secretary.post(address(match), {"correcting": ""}))
    answer = secretary.post(address(match), {"correcting": "", "gaps_confirmed": "on"})

    assert "Peg 2, Ana Ferradas: not weighed yet" in shown.words
    assert "Weigh or settle these, or confirm" in refused.words
    assert answer.status_code == 302
    page = read(secretary.get(f"/matches/{match.pk}/result/")).words
    assert "Not everybody is weighed" in page
    assert "Still to come: peg 2." in page  # the bank, in words


def test_two_figures_for_a_peg_are_both_shown_and_publishing_is_refused(secretary, match):
    entry = match.entries.get(number=2)
    make_weigh_in(entry, "13-0")

    shown = read(secretary.get(address(match)))
    refused = read(secretary.post(address(match), {"correcting": ""}))

    assert "in question, 3 lb 0 oz or 13 lb 0 oz" in shown.words
    assert "in question" in refused.words
    assert not Result.objects.exists()


def test_a_team_that_is_short_is_named_with_what_the_rules_give(secretary, club):
    season = make_season(club, teams=["Old Quarry", "Pennyfold"], book={"unit": "lb-oz",
                         "team": {"size": 2}})  # fmt: skip
    old, penny = season.teams.order_by("code")
    match = make_match(season=season, sections={"A": 2, "B": 1})
    for peg, team, figure in ((1, old, "3-0"), (2, penny, "2-0"), (3, old, "1-0")):
        make_weigh_in(make_entry(match, peg=peg, team=team), figure)

    page = read(secretary.get(address(match)))

    # One angler drew a peg in section B: whoever is absent from it has one more, 2.
    assert "Pennyfold are one angler short: section B, 2 points, as absent." in page.words


def test_before_the_draw_there_is_nothing_to_publish(secretary, club):
    match = make_match(club, drawn=False)

    assert read(secretary.get(address(match))).h1 == "Nothing to publish yet"


def test_correcting_a_final_result_says_which_version_it_would_be_and_asks_why(secretary, match):
    publish(match, by=None)
    Result.objects.update(final_at="2026-10-06T20:00Z")
    entry = match.entries.get(number=1)
    entry.weigh_ins.all().delete()
    make_weigh_in(entry, "9-0")

    shown = read(secretary.get(address(match)))
    refused = read(secretary.post(address(match), {"correcting": "1", "why": ""}))
    answer = secretary.post(address(match), {"correcting": "1", "why": "Read again."})

    assert "Version 1 is published and stays readable. This would be version 2." in shown.words
    assert "Say why the result is corrected" in refused.words
    assert answer.status_code == 302
    assert [each.state for each in Result.objects.order_by("version")] == ["final", "provisional"]


# ---- who is told -------------------------------------------------------------------------------


def test_those_who_asked_are_written_to_when_the_box_is_ticked(secretary, match, asked):
    secretary.post(address(match), {"correcting": "", "tell": "on"})

    [letter] = mail.outbox
    assert letter.to == ["keith@example.org"]
    assert letter.subject.startswith("Autumn Open, ")
    assert f"/matches/{match.pk}/result/1/" in letter.body
    assert "To stop them: http://testserver/clubs/marlbrook/results/by-email/" in letter.body


def test_without_the_tick_nobody_is_written_to(secretary, match, asked):
    secretary.post(address(match), {"correcting": ""})

    assert Result.objects.count() == 1
    assert mail.outbox == []


def test_the_letter_shown_is_the_letter_sent(secretary, match, asked):
    shown = read(secretary.get(address(match)))
    secretary.post(address(match), {"correcting": "", "tell": "on"})

    [letter] = mail.outbox
    assert " ".join(letter.body.split()) in " ".join(shown.words.split())


def test_a_refused_publication_writes_to_nobody(secretary, match, asked):
    secretary.post(address(match), {"correcting": "4", "tell": "on"})

    assert not Result.objects.exists()
    assert mail.outbox == []


# ---- asking ------------------------------------------------------------------------------------


@pytest.fixture
def own(club, member):
    return AnglerFactory(club=club, name="Jo Ormesher", user=member.user)


PAGE = "/clubs/marlbrook/results/by-email/"


def test_a_member_asks_for_results_and_stops_them_again(member, own):
    assert own.results_by_email is False

    member.post(PAGE, {"wants": "on", "email": "jo@example.org"})
    own.refresh_from_db()
    assert (own.results_by_email, own.email) == (True, "jo@example.org")

    member.post(PAGE, {"email": "jo@example.org"})
    own.refresh_from_db()
    assert own.results_by_email is False


def test_an_address_that_is_none_comes_back_as_typed(member, own):
    page = member.post(PAGE, {"wants": "on", "email": "jo at home"}).content.decode()

    assert "Say where the results go" in page
    assert 'value="jo at home"' in page


def test_a_member_who_is_no_angler_hears_whom_to_ask(member):
    assert "Ask the match secretary" in read(member.get(PAGE)).words


def test_a_stranger_is_asked_to_sign_in(stranger, own):
    assert stranger.get(PAGE).status_code == 302
    assert stranger.post(PAGE, {"wants": "on", "email": "x@example.org"}).status_code == 302
    own.refresh_from_db()
    assert own.results_by_email is False


def test_the_journal_has_who_asked_and_no_address(member, own, club):
    ask_for_results(own, wants=True, email="jo@example.org", by=member.user)

    assert Act.objects.of(club).first().what == "Jo Ormesher asked for results by e-mail."
