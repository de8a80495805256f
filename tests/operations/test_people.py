"""Anglers put right, made one, erased: results stand to the ounce, and the name goes everywhere."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from django.contrib.auth.models import User

from league.models import (
    Act,
    Angler,
    Club,
    Decision,
    DecisionKind,
    Entry,
    Match,
    OfficeName,
    Result,
    SquadMember,
)
from league.operations.decide import decide
from league.operations.erase import erase, still_to_come
from league.operations.errors import RefusedError
from league.operations.own_data import own_data
from league.operations.people import (
    About,
    about,
    add_angler,
    change_angler,
    join_sign_in,
    merge,
)
from league.operations.publish import make_final, publish
from league.operations.score import changed_since, score_table
from tests.builders import give_office, make_entry, make_fished_match, make_season
from tests.factories import AnglerFactory, UserFactory


def _name(entry: Entry, name: str) -> Angler:
    entry.angler.name = name
    entry.angler.save()
    return entry.angler


@pytest.fixture
def match(club: Club) -> Match:
    """A round with three in each of two sections; Tom Kerrow on peg 1, a junior with consent."""
    match = make_fished_match(season=make_season(club))
    for entry, name in zip(
        match.entries.order_by("number"),
        ["Tom Kerrow", "Ivy Marsh", "Len Hathersage", "Maud Perrin", "R Smith", "Ned Sparrow"],
        strict=True,
    ):
        _name(entry, name)
    tom = Angler.objects.get(name="Tom Kerrow")
    tom.junior = tom.consent_to_publish = True
    tom.save()
    return match


@pytest.fixture
def tom(match: Match) -> Angler:
    return Angler.objects.get(name="Tom Kerrow")


def _figures(document: Any, *names: str) -> str:
    """A document with the anglers' names blanked: what must never change."""
    text = json.dumps(document, sort_keys=True)
    for name in names:
        text = text.replace(name, "?")
    return text


def test_consent_taken_back_goes_through_every_version_and_moves_no_figure(
    match: Match, tom: Angler
) -> None:
    first = publish(match, by=None)
    entry = match.entries.get(angler=tom)
    decide(
        match, kind=DecisionKind.POINTS, entry=entry, points=2, why="Tom Kerrow was late.", by=None
    )
    second = publish(match, by=None, correcting=1, why="Tom Kerrow penalised.")
    before = [_figures(each.document, "Tom Kerrow") for each in (first, second)]

    carried = change_angler(tom, About("Tom Kerrow", junior=True), by=None)

    assert carried.versions == 2
    versions = list(Result.objects.filter(match=match).order_by("version"))
    after = [_figures(each.document, "Tom K. (junior)") for each in versions]
    assert after == before
    said = [f"{each.document} {each.headline} {each.why}" for each in versions]
    assert not any("Kerrow" in each for each in said)
    assert versions[1].why == "Tom K. (junior) penalised."
    assert Decision.objects.get().why == "Tom K. (junior) was late."
    assert versions[0].headline.startswith("Tom K. (junior)")
    assert not changed_since(versions[1])  # nothing to correct: a name is no result
    assert all(each.names_at for each in versions)


def test_consent_given_later_prints_the_full_name_again(match: Match, tom: Angler) -> None:
    publish(match, by=None)
    change_angler(tom, About("Tom Kerrow", junior=True), by=None)
    tom.refresh_from_db()

    change_angler(tom, About("Tom Kerrow", junior=True, consent_to_publish=True), by=None)

    assert Result.objects.get().headline.startswith("Tom Kerrow")


def test_the_journal_says_what_changed_and_not_the_name_that_is_withheld(tom: Angler) -> None:
    change_angler(
        tom, About("Tom Kerrow", email="t@example.test", junior=True, easy_access=True), by=None
    )

    assert Act.objects.latest("pk").what == (
        "Tom K. (junior): another e-mail address, consent taken back and needs an easy-access peg."
    )


def test_the_same_name_twice_is_refused(club: Club, tom: Angler) -> None:
    with pytest.raises(RefusedError, match="tell them apart"):
        add_angler(club, About("Tom  Kerrow"), by=None)


# ---- two records of one person --------------------------------------------------------------


@pytest.fixture
def robert(match: Match, club: Club) -> Angler:
    """On record twice: R Smith in the first round, Robert Smith in the second."""
    second = make_fished_match(season=match.season)
    entry = second.entries.order_by("number")[0]
    robert = _name(entry, "Robert Smith")
    for each in second.entries.order_by("number")[1:]:
        each.angler.name = f"Other {each.number}"
        each.angler.save()
    publish(match, by=None)
    publish(second, by=None)
    return robert


def test_two_records_become_one_line_in_the_table_with_both_rounds(
    match: Match, robert: Angler
) -> None:
    short = Angler.objects.get(name="R Smith")
    before = {line.key: line.total for line in score_table(match.season).anglers}

    merge(robert, short, by=None)

    after = {line.key: line.total for line in score_table(match.season).anglers}
    # Peg 5 was level first in section B, 1½ points; peg 1 of round 2 won section A, 1 point.
    assert before.keys() - after.keys() == {str(short.pk)}
    assert after[str(robert.pk)] == Fraction(5, 2)
    assert Entry.objects.filter(angler=robert).count() == 2
    assert not Angler.objects.filter(pk=short.pk).exists()
    assert not any(changed_since(result) for result in Result.objects.all())
    assert Act.objects.latest("pk").what == (
        "R Smith and Robert Smith are one person: kept as Robert Smith."
    )


def test_two_who_fished_one_match_are_two_people(match: Match) -> None:
    one, other = Angler.objects.filter(name__in=["Ivy Marsh", "Maud Perrin"])

    with pytest.raises(
        RefusedError,
        match="Both were booked in for Round 1 on 24 January 2027, so they are two people",
    ):
        merge(one, other, by=None)

    assert Angler.objects.filter(pk__in=[one.pk, other.pk]).count() == 2


def test_two_in_teams_of_one_season_are_two_people(club: Club) -> None:
    season = make_season(club, teams=["Reds", "Blues"])
    one, other = AnglerFactory(club=club, name="A Bell"), AnglerFactory(club=club, name="Al Bell")
    for angler, team in zip((one, other), season.teams.order_by("name"), strict=True):
        SquadMember.objects.create(team=team, angler=angler)

    with pytest.raises(RefusedError, match="in one season"):
        merge(one, other, by=None)


def test_twice_in_one_squad_becomes_once_and_stays_captain(club: Club) -> None:
    season = make_season(club, teams=["Reds"])
    team = season.teams.get()
    keep, gone = AnglerFactory(club=club, name="A Bell"), AnglerFactory(club=club, name="Al Bell")
    SquadMember.objects.create(team=team, angler=keep)
    SquadMember.objects.create(team=team, angler=gone, captain=True)

    merge(keep, gone, by=None)

    squad = SquadMember.objects.get()
    assert (squad.angler, squad.captain) == (keep, True)


def test_what_only_one_record_knew_is_kept(club: Club) -> None:
    user = UserFactory(username="al")
    keep = AnglerFactory(club=club, name="Al Bell", junior=True, consent_to_publish=False)
    gone = AnglerFactory(
        club=club, name="A Bell", email="al@example.test", user=user, consent_to_publish=True
    )

    merge(keep, gone, by=None)

    keep.refresh_from_db()
    assert (keep.email, keep.user) == ("al@example.test", user)
    assert not keep.consent_to_publish  # consent is never taken over from a doubtful record


# ---- erased ---------------------------------------------------------------------------------


def test_an_erased_anglers_results_stand_without_the_name(match: Match, tom: Angler) -> None:
    tom.user = UserFactory(username="tomkerrow", email="tom@example.test", first_name="Tom")
    tom.save()
    publish(match, by=None)
    make_final(match, by=None, at=Result.objects.get().objections_until)
    before = _figures(Result.objects.get().document, "Tom Kerrow")
    table = [line.total for line in score_table(match.season).anglers]

    erase(tom, by=None)

    tom.refresh_from_db()
    assert (tom.name, tom.email, tom.user, tom.junior) == ("Name removed 1", "", None, False)
    assert _figures(Result.objects.get().document, "Name removed 1") == before
    assert [line.total for line in score_table(match.season).anglers] == table
    user = User.objects.get(username__startswith="removed-")
    assert (user.first_name, user.email, user.is_active) == ("", "", False)
    assert not user.has_usable_password()
    assert not Act.objects.filter(what__contains="Kerrow").exists()


def test_nobody_is_erased_while_something_is_to_come_of_them(match: Match, tom: Angler) -> None:
    tom.user = give_office(match.club, UserFactory(username="tk"), OfficeName.SCALES).user
    tom.save()

    assert [reason.split(".")[0][:20] for reason in still_to_come(tom)] == [
        "Booked in for Round ",
        "Holds an office: Sca",
    ]
    with pytest.raises(RefusedError, match="Booked in for Round 1"):
        erase(tom, by=None)
    tom.refresh_from_db()
    assert tom.name == "Tom Kerrow"


def test_where_two_share_a_name_the_others_lines_are_left_alone(match: Match, tom: Angler) -> None:
    publish(match, by=None)
    make_final(match, by=None, at=Result.objects.get().objections_until)
    AnglerFactory(club=match.club, name="Tom Kerrow")
    Act.objects.create(
        club=match.club, what="Tom Kerrow added.", at=Result.objects.get().published_at
    )

    carried = erase(tom, by=None)

    assert carried.shared == (f"{match}, version 1",)
    assert Act.objects.filter(what="Tom Kerrow added.").exists()
    assert "Tom Kerrow" not in str(Result.objects.get().document)


def test_an_erased_name_is_not_brought_back(tom: Angler) -> None:
    Entry.objects.filter(angler=tom).delete()
    erase(tom, by=None)
    tom.refresh_from_db()

    with pytest.raises(RefusedError, match="stays out"):
        change_angler(tom, About("Tom Kerrow"), by=None)


def test_a_sign_in_is_one_anglers_and_no_others(club: Club) -> None:
    user = UserFactory(username="al")
    al, other = AnglerFactory(club=club, name="Al Bell"), AnglerFactory(club=club, name="Bo Bell")
    join_sign_in(al, user, by=None)

    with pytest.raises(RefusedError, match="belongs to Al Bell already"):
        join_sign_in(other, user, by=None)
    join_sign_in(al, None, by=None)
    join_sign_in(other, user, by=None)

    other.refresh_from_db()
    assert other.user == user


# ---- a member's own data --------------------------------------------------------------------


def test_a_members_own_data_holds_every_table_that_points_at_them(
    match: Match, tom: Angler
) -> None:
    tom.user = give_office(match.club, UserFactory(username="tk"), OfficeName.MEMBER).user
    tom.email = "tom@example.test"
    tom.save()
    publish(match, by=None)

    data = own_data(tom)

    assert data["angler"]["email"] == "tom@example.test"
    assert data["sign-in"]["name"] == "tk"
    (fished,) = data["matches"]
    assert fished["rows"]["weigh ins"][0]["nets"] == [12 * 256 + 8 * 16]
    assert fished["published"][0]["weight"] == "12 lb 8 oz"
    assert data["other rows"]["offices"][0]["name"] == "member"
    text = json.dumps(data)
    assert "hash" not in text
    for other in ("Ivy Marsh", "Ned Sparrow"):
        assert other not in text


def test_what_is_on_record_and_what_is_typed_are_one_thing(tom: Angler) -> None:
    assert about(tom) == About("Tom Kerrow", junior=True, consent_to_publish=True)


def test_somebody_booked_in_for_a_planned_match_is_not_erased(club: Club) -> None:
    entry = make_entry(make_fished_match(club), name="Silas Underhay")

    assert len(still_to_come(entry.angler)) == 1
