"""QuerySet words: each asks what it says, and nothing else."""

from __future__ import annotations

import datetime as dt

import pytest
from django.contrib.auth.models import AnonymousUser

from league.models import (
    Act,
    Angler,
    Club,
    Decision,
    DrawEvent,
    DrawRecord,
    Entry,
    Match,
    Office,
    Peg,
    Result,
    Season,
    SetAside,
    SquadMember,
    Stage,
    Team,
    Water,
    WeighIn,
)
from tests.builders import give_office, make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, ClubFactory, PegFactory, TeamFactory, UserFactory

NOW = dt.datetime(2027, 1, 24, 16, tzinfo=dt.UTC)


def _result(match: Match, version: int) -> Result:
    return Result.objects.create(
        match=match, version=version, document={"a": 1}, headline="x", published_at=NOW
    )


def test_a_private_club_is_seen_by_its_members_alone(db: None) -> None:
    public, private = ClubFactory(), ClubFactory(public=False)
    officer, angler, other = UserFactory(), UserFactory(), UserFactory()
    give_office(private, officer, "member")
    AnglerFactory(club=private, user=angler)

    seen = {
        who: set(Club.objects.visible_to(user))
        for who, user in [
            ("officer", officer),
            ("angler", angler),
            ("other", other),
            ("stranger", AnonymousUser()),
        ]
    }

    assert seen == {
        "officer": {public, private},
        "angler": {public, private},
        "other": {public},
        "stranger": {public},
    }


def test_offices_are_held_in_one_club_and_by_name(club: Club) -> None:
    elsewhere, user = ClubFactory(), UserFactory()
    give_office(club, user, "scales")
    give_office(elsewhere, user, "treasurer")

    assert list(Club.objects.held_by(user, "scales", "secretary")) == [club]
    assert list(Club.objects.held_by(AnonymousUser(), "scales")) == []
    assert [office.name for office in Office.objects.of_user(user).order_by("name")] == [
        "scales",
        "treasurer",
    ]


def test_a_match_is_run_by_who_holds_the_office_in_its_club(club: Club) -> None:
    match, user = make_match(club), UserFactory()
    make_match(ClubFactory())
    give_office(club, user, "secretary")

    assert list(Match.objects.run_by(user, "secretary")) == [match]
    assert list(Match.objects.run_by(user, "treasurer")) == []


def test_matches_are_told_apart_by_how_far_they_are(club: Club) -> None:
    planned = make_match(club, drawn=False, date=dt.date(2027, 2, 7))
    drawn = make_match(club, date=dt.date(2027, 1, 24))
    published = make_match(club, date=dt.date(2027, 1, 10))
    final = make_match(club, date=dt.date(2026, 12, 27))
    cancelled = make_match(club, date=dt.date(2026, 12, 13))
    for match, stage in [
        (published, Stage.PUBLISHED),
        (final, Stage.FINAL),
        (cancelled, Stage.CANCELLED),
    ]:
        match.stage = stage
        match.save()

    of_club = Match.objects.of(club)
    assert list(of_club) == [cancelled, final, published, drawn, planned]
    assert list(of_club.to_come(dt.date(2027, 1, 24))) == [drawn, planned]
    assert list(of_club.to_come(dt.date(2027, 1, 25))) == [planned]
    assert list(of_club.unfinished()) == [published, drawn, planned]
    assert list(of_club.published()) == [published, final]
    assert [match.is_drawn for match in of_club] == [False, True, True, True, False]


def test_the_rounds_of_a_season_come_in_their_order(club: Club) -> None:
    season = make_season(club)
    second = make_match(season=season, round=2)
    first = make_match(season=season, round=1)
    make_match(club)

    assert list(Match.objects.rounds_of(season)) == [first, second]


def test_the_cancelled_rounds_of_a_season_are_known_by_number(club: Club) -> None:
    season = make_season(club)
    make_match(season=season, round=1)
    off = make_match(season=season, round=2)
    off.stage = Stage.CANCELLED
    off.save()

    assert Match.objects.cancelled_rounds(season) == [2]


def test_a_round_takes_its_seasons_rules_and_a_match_its_own(club: Club) -> None:
    season = make_season(club, book={"name": "Winter"})

    assert make_match(season=season).announced_book == {"name": "Winter"}
    assert make_match(club, book={"name": "Cup"}).announced_book == {"name": "Cup"}
    assert make_match(club).announced_book == {}
    assert make_match(season=season, book={"name": "Own"}).announced_book == {"name": "Own"}


def test_pegs_stand_along_their_water_and_the_left_out_are_not_used(club: Club) -> None:
    water = make_match(club, sections={"A": 1}).water
    far = PegFactory(water=water, order=9, number="12a")
    out = PegFactory(water=water, order=5, number="P3", left_out=True, left_out_why="Overhead line")
    PegFactory(water=make_match(club).water, order=30)

    assert [peg.number for peg in Peg.objects.along(water)] == ["1", "P3", "12a"]
    assert list(Peg.objects.along(water).usable().exclude(number="1")) == [far]
    assert str(out) == "P3"
    assert list(Water.objects.of(club).filter(pk=water.pk)) == [water]


def test_entries_come_in_peg_order_with_the_pegless_left_out(club: Club) -> None:
    match = make_match(club, sections={"A": 3})
    third, first = make_entry(match, peg=3), make_entry(match, peg=1)
    pegless = make_entry(match)
    make_entry(match, withdrawn_at=NOW)

    entries = Entry.objects.of(match)
    assert list(entries.in_peg_order()) == [first, third]
    assert list(entries.with_figures()) == [first, third, pegless]
    assert list(entries.in_booking_order()) == [third, first, pegless]


def test_a_number_is_never_given_twice(club: Club) -> None:
    match = make_match(club)
    assert Entry.objects.next_number(match) == 1

    make_entry(match, number=7, withdrawn_at=NOW)

    assert Entry.objects.next_number(match) == 8


def test_where_an_angler_fished_comes_newest_first(club: Club) -> None:
    angler = AnglerFactory(club=club)
    older = make_entry(make_match(club, date=dt.date(2026, 11, 1)), peg=1, angler=angler)
    newer = make_entry(make_match(club, date=dt.date(2026, 12, 1)), peg=1, angler=angler)
    make_entry(make_match(club), angler=angler)

    assert list(Entry.objects.fished_by(angler)) == [newer, older]


def test_a_figure_set_aside_does_not_stand_and_can_still_be_read(club: Club) -> None:
    entry = make_entry(make_match(club), peg=1)
    first, second = make_weigh_in(entry, "12-8"), make_weigh_in(entry, "12-9")
    SetAside.objects.create(weigh_in=first, why="Misread.", at=NOW)

    assert list(WeighIn.objects.of(entry.match)) == [first, second]
    assert list(WeighIn.objects.for_entry(entry).standing()) == [second]
    assert [each.stands for each in WeighIn.objects.of(entry.match)] == [False, True]
    assert WeighIn.objects.by_key(first.key) == first
    assert SetAside.objects.of(entry.match).count() == 1


def test_a_lifted_decision_and_its_lifting_are_not_in_force(club: Club) -> None:
    entry = make_entry(make_match(club), peg=1)
    values = {"match": entry.match, "kind": "points", "entry": entry, "why": "x", "at": NOW}
    stands = Decision.objects.create(**values, points=1)
    lifted = Decision.objects.create(**values, points=2)
    lifting = Decision.objects.create(**values, lifts=lifted)

    assert list(Decision.objects.in_force(entry.match)) == [stands]
    assert list(Decision.objects.on(entry.match)) == [stands, lifted, lifting]
    assert list(Decision.objects.lifted(lifted)) == [lifting]


def test_the_newest_version_is_in_force(club: Club) -> None:
    season = make_season(club)
    second, first = make_match(season=season, round=2), make_match(season=season, round=1)
    _result(first, 1)
    newest_first = _result(first, 2)
    only_second = _result(second, 1)

    assert list(Result.objects.of(first).values_list("version", flat=True)) == [2, 1]
    assert set(Result.objects.newest()) == {newest_first, only_second}
    assert list(Result.objects.rounds_of(season)) == [newest_first, only_second]
    assert newest_first.state == "provisional"
    newest_first.final_at = NOW
    assert newest_first.state == "final"


def test_somebody_in_another_squad_of_the_season_is_found(club: Club) -> None:
    season = make_season(club, teams=["Old Quarry", "Tannery Lane"])
    ours, theirs = Team.objects.of(season)
    angler = AnglerFactory(club=club)
    member = SquadMember.objects.create(team=theirs, angler=angler)
    SquadMember.objects.create(team=TeamFactory(season=make_season(club)), angler=angler)

    assert SquadMember.objects.elsewhere(ours, angler) == member
    assert SquadMember.objects.elsewhere(theirs, angler) is None
    assert list(SquadMember.objects.of(theirs)) == [member]


def test_the_table_version_counts_up(club: Club) -> None:
    season = make_season(club)

    Season.objects.table_changed(season.pk)
    Season.objects.table_changed(season.pk)

    season.refresh_from_db()
    assert season.table_version == 2


def test_the_events_of_a_draw_are_open_finished_or_abandoned(club: Club) -> None:
    record = DrawRecord.objects.create(match=make_match(club), code="demo-1")
    open_one = DrawEvent.objects.create(record=record, number=1, kind="draw", begun_at=NOW)
    done = DrawEvent.objects.create(
        record=record, number=2, kind="draw", begun_at=NOW, finished_at=NOW, pegs={"1": 4}
    )
    given_up = DrawEvent.objects.create(
        record=record, number=3, kind="draw", begun_at=NOW, finished_at=NOW, why="Rain."
    )

    assert [(each.is_open, each.is_abandoned) for each in (open_one, done, given_up)] == [
        (True, False),
        (False, False),
        (False, True),
    ]
    assert DrawRecord.objects.of(record.match) == record


@pytest.mark.parametrize(
    ("name", "junior", "consent", "shown"),
    [
        ("Dave Scrimshire", False, False, "Dave Scrimshire"),
        ("Molly Arberry", True, False, "Molly A. (junior)"),
        ("Molly Arberry", True, True, "Molly Arberry"),
        ("Molly", True, False, "Molly (junior)"),
    ],
)
def test_a_juniors_full_name_is_shown_with_consent_alone(
    name: str, junior: bool, consent: bool, shown: str
) -> None:
    assert Angler(name=name, junior=junior, consent_to_publish=consent).shown_name == shown


def test_the_journal_is_read_newest_first(club: Club) -> None:
    match = make_match(club)
    older = Act.objects.create(club=club, match=match, what="Drawn.", at=NOW)
    newer = Act.objects.create(club=club, what="Season set up.", at=NOW + dt.timedelta(hours=1))

    assert list(Act.objects.of(club)) == [newer, older]
    assert list(Act.objects.on(match)) == [older]
