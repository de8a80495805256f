"""What must never be false: the database refuses it, and says why in words."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction

from league.models import (
    Angler,
    Club,
    Decision,
    DrawEvent,
    DrawRecord,
    Entry,
    League,
    Match,
    MatchPeg,
    Office,
    Peg,
    Phone,
    Result,
    RulesChange,
    ScalesPass,
    Season,
    Section,
    SetAside,
    SquadMember,
    Team,
    Venue,
    Water,
    WeighIn,
)
from tests.builders import make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, PegFactory, TeamFactory, UserFactory
from tests.models.false_doors import FALSE_DOORS
from tests.models.false_money import FALSE_MONEY

NOW = dt.datetime(2027, 1, 24, 16, tzinfo=dt.UTC)
TODAY = dt.date(2027, 1, 24)


def one_league_a_name(club: Club) -> models.Model:
    League.objects.create(club=club, name="Winter", slug="winter")
    return League(club=club, name="Winter", slug="winter")


def one_season_a_name(club: Club) -> models.Model:
    season = make_season(club, slug="2026-27")
    return Season(league=season.league, name="2026–27", slug="2026-27", starts=TODAY, book={"a": 1})


def one_team_a_name(club: Club) -> models.Model:
    season = make_season(club, teams=["Old Quarry"])
    return Team(season=season, name="Old Quarry", code="OLD")


def one_team_a_code(club: Club) -> models.Model:
    season = make_season(club, teams=["Old Quarry"])
    return Team(season=season, name="Tannery Lane", code="T1")


def team_code_is_plain(club: Club) -> models.Model:
    return Team(season=make_season(club), name="Tannery Lane", code="tan")


def once_in_a_squad(club: Club) -> models.Model:
    team, angler = TeamFactory(season=make_season(club)), AnglerFactory(club=club)
    SquadMember.objects.create(team=team, angler=angler)
    return SquadMember(team=team, angler=angler)


def one_venue_a_name(club: Club) -> models.Model:
    Venue.objects.create(club=club, name="Heron Fishery")
    return Venue(club=club, name="Heron Fishery")


def one_water_a_name(club: Club) -> models.Model:
    water = make_match(club).water
    return Water(venue=water.venue, name=water.name)


def one_peg_a_number(club: Club) -> models.Model:
    peg = PegFactory(water=make_match(club).water, order=90, number="12a")
    return Peg(water=peg.water, order=91, number="12a")


def one_peg_a_place(club: Club) -> models.Model:
    peg = PegFactory(water=make_match(club).water, order=90)
    return Peg(water=peg.water, order=90, number="P3")


def left_out_says_why(club: Club) -> models.Model:
    return Peg(water=make_match(club).water, order=90, number="90", left_out=True)


def one_angler_a_member(club: Club) -> models.Model:
    angler = AnglerFactory(club=club, user=UserFactory())
    return Angler(club=club, name="Somebody Else", user=angler.user)


def one_office_once(club: Club) -> models.Model:
    office = Office.objects.create(club=club, user=UserFactory(), name="scales")
    return Office(club=club, user=office.user, name="scales")


def one_match_a_round(club: Club) -> models.Model:
    match = make_match(season=make_season(club), round=6)
    return Match(club=club, season=match.season, round=6, water=match.water, date=TODAY)


def a_round_has_a_number(club: Club) -> models.Model:
    match = make_match(season=make_season(club))
    return Match(club=club, season=match.season, water=match.water, date=TODAY)


def out_from_before_until(club: Club) -> models.Model:
    water = make_match(club).water
    out = {"left_out": True, "left_out_why": "flooded"}
    days = {"out_from": dt.date(2027, 2, 2), "out_until": dt.date(2027, 2, 1)}
    return Peg(water=water, number="99", order=99, **out, **days)


def a_rules_change_says_why(club: Club) -> models.Model:
    return RulesChange(season=make_season(club), was={}, becomes={}, after_round=1, at=NOW)


def one_section_a_letter(club: Club) -> models.Model:
    return Section(match=make_match(club, sections={"A": 1}), letter="A", order=9)


def a_peg_in_one_section(club: Club) -> models.Model:
    match = make_match(club, sections={"A": 1, "B": 1})
    peg = MatchPeg.objects.of(match)[0].peg
    return MatchPeg(match=match, section=match.sections.get(letter="B"), peg=peg)


def one_entry_an_angler(club: Club) -> models.Model:
    entry = make_entry(make_match(club))
    return Entry(match=entry.match, angler=entry.angler, number=9)


def one_entry_a_number(club: Club) -> models.Model:
    entry = make_entry(make_match(club))
    return Entry(match=entry.match, angler=AnglerFactory(club=club), number=entry.number)


def one_angler_a_peg(club: Club) -> models.Model:
    entry = make_entry(make_match(club), peg=1)
    return Entry(
        match=entry.match, angler=AnglerFactory(club=club), number=9, match_peg=entry.match_peg
    )


def one_of_a_team_in_a_section(club: Club) -> models.Model:
    season = make_season(club, teams=["Old Quarry"])
    match = make_match(season=season)
    entry = make_entry(match, peg=1, team=season.teams.get(), alone_in_section=True)
    return Entry(
        match=match,
        angler=AnglerFactory(club=club),
        number=9,
        team=entry.team,
        section=entry.section,
        alone_in_section=True,
    )


def weigh_in_has_a_status(club: Club) -> models.Model:
    entry = make_entry(make_match(club), peg=1)
    return WeighIn(key=uuid.uuid4(), entry=entry, status="lost", received_at=NOW)


def set_aside_says_why(club: Club) -> models.Model:
    weigh_in = make_weigh_in(make_entry(make_match(club), peg=1))
    return SetAside(weigh_in=weigh_in, why="", at=NOW)


def decision_says_why(club: Club) -> models.Model:
    entry = make_entry(make_match(club), peg=1)
    return Decision(match=entry.match, kind="disqualified", entry=entry, why="", at=NOW)


def decision_names_somebody(club: Club) -> models.Model:
    return Decision(match=make_match(club), kind="points", points=2, why="Late.", at=NOW)


def one_result_a_version(club: Club) -> models.Model:
    match = make_match(club)
    Result.objects.create(match=match, version=1, document={"a": 1}, headline="x", published_at=NOW)
    return Result(match=match, version=1, document={"a": 1}, headline="x", published_at=NOW)


def versions_count_from_one(club: Club) -> models.Model:
    return Result(
        match=make_match(club), version=0, document={"a": 1}, headline="x", published_at=NOW
    )


def one_draw_event_a_number(club: Club) -> models.Model:
    record = DrawRecord.objects.create(match=make_match(club), code="demo-1")
    DrawEvent.objects.create(record=record, number=1, kind="draw", begun_at=NOW)
    return DrawEvent(record=record, number=1, kind="draw", begun_at=NOW)


def a_pass_ends_after_it_begins(club: Club) -> models.Model:
    return ScalesPass(
        match=make_match(club), name="Len and Ivy", secret_hash="x", made_at=NOW, expires_at=NOW
    )


def a_phone_has_a_pass_or_a_person(club: Club) -> models.Model:
    return Phone(
        match=make_match(club), name="Len", token_hash="x", enrolled_at=NOW, expires_at=NOW
    )


FALSE_THINGS: list[tuple[Callable[[Club], models.Model], str]] = [
    (one_league_a_name, "The club already has a league of this name."),
    (one_season_a_name, "The league already has a season of this name."),
    (one_team_a_name, "The season already has a team of this name."),
    (one_team_a_code, "Another team of the season has this code."),
    (team_code_is_plain, "A team's code is one to eight capitals or digits."),
    (once_in_a_squad, "This angler is already in the squad."),
    (one_venue_a_name, "The club already has a venue of this name."),
    (one_water_a_name, "The venue already has a water of this name."),
    (one_peg_a_number, "The water already has a peg of this number."),
    (one_peg_a_place, "Two pegs cannot stand at the same place along the bank."),
    (left_out_says_why, "Say why the peg is left out."),
    (one_angler_a_member, "This member is already an angler of the club."),
    (one_office_once, "This member already holds that office."),
    (one_match_a_round, "The season already has this round."),
    (a_round_has_a_number, "A match of a season needs the number of its round."),
    (out_from_before_until, "The last day out comes before the first."),
    (a_rules_change_says_why, "Say why the rules change."),
    (one_section_a_letter, "The match already has a section of this letter."),
    (a_peg_in_one_section, "This peg is already in a section of the match."),
    (one_entry_an_angler, "This angler is already booked in."),
    (one_entry_a_number, "Another entry has this number."),
    (one_angler_a_peg, "Somebody else has drawn this peg."),
    (one_of_a_team_in_a_section, "The team already has a member in this section."),
    (weigh_in_has_a_status, "Say what became of the angler: weighed, blank, absent ..."),
    (set_aside_says_why, "Say why the figure does not stand."),
    (decision_says_why, "Say why: it is printed with the result."),
    (decision_names_somebody, "Say whom the decision is about."),
    (one_result_a_version, "This version was published meanwhile; look again."),
    (versions_count_from_one, "Versions are counted from 1."),
    (one_draw_event_a_number, "This draw was begun by somebody else meanwhile."),
    (a_pass_ends_after_it_begins, "The pass would end before it begins."),
    (a_phone_has_a_pass_or_a_person, "A phone comes in by a pass or by somebody's sign-in."),
    *FALSE_MONEY,
    *FALSE_DOORS,
]
CASES = pytest.mark.parametrize(
    ("make", "words"), FALSE_THINGS, ids=[make.__name__ for make, _ in FALSE_THINGS]
)


@CASES
def test_a_false_thing_is_refused_by_the_database_itself(
    club: Club, make: Callable[[Club], models.Model], words: str
) -> None:
    row = make(club)

    with pytest.raises(IntegrityError), transaction.atomic():
        row.save(force_insert=True)


@CASES
def test_a_false_thing_is_refused_in_words(
    club: Club, make: Callable[[Club], models.Model], words: str
) -> None:
    row = make(club)

    with pytest.raises(ValidationError) as refusal:
        row.validate_constraints()

    assert refusal.value.messages == [words]


def test_every_constraint_is_tried_above() -> None:
    named = {
        constraint.name
        for model in apps.get_app_config("league").get_models()
        for constraint in model._meta.constraints
    }

    assert {make.__name__ for make, _ in FALSE_THINGS} == named


def test_who_withdrew_before_the_draw_frees_the_peg_the_angler_and_the_section(club: Club) -> None:
    season = make_season(club, teams=["Old Quarry"])
    match = make_match(season=season)
    gone = make_entry(
        match, peg=1, team=season.teams.get(), alone_in_section=True, withdrawn_at=NOW
    )

    again = Entry(
        match=match,
        angler=gone.angler,
        number=9,
        team=gone.team,
        section=gone.section,
        match_peg=gone.match_peg,
        alone_in_section=True,
    )
    again.validate_constraints()
    again.save()

    assert list(Entry.objects.of(match)) == [again]


def test_a_key_is_stored_once(club: Club) -> None:
    weigh_in = make_weigh_in(make_entry(make_match(club), peg=1))
    again = WeighIn(key=weigh_in.key, entry=weigh_in.entry, status="blank", received_at=NOW)

    with pytest.raises(IntegrityError), transaction.atomic():
        again.save(force_insert=True)


def test_a_decision_is_lifted_once(club: Club) -> None:
    entry = make_entry(make_match(club), peg=1)
    values = {"match": entry.match, "kind": "disqualified", "entry": entry, "why": "x", "at": NOW}
    decision = Decision.objects.create(**values)
    Decision.objects.create(**values, lifts=decision)

    with pytest.raises(IntegrityError), transaction.atomic():
        Decision.objects.create(**values, lifts=decision)


def test_a_match_has_one_draw(club: Club) -> None:
    match = make_match(club)
    DrawRecord.objects.create(match=match, code="demo-1")

    with pytest.raises(IntegrityError), transaction.atomic():
        DrawRecord.objects.create(match=match, code="demo-2")
