"""A captain's link: signed, hashed, ending, taken back; and the line-up named by it."""

from __future__ import annotations

import datetime as dt

import pytest
from django.core.signing import Signer

from league.models import Act, Angler, CaptainPass, Entry, Match, Reserve, SquadMember, Team
from league.operations.captains import (
    SALT,
    Place,
    make_link,
    name_line_up,
    opened_by,
    places_for,
    revoke_link,
    squad_of,
    why_shut,
)
from league.operations.dates import When, move_match
from league.operations.errors import RefusedError
from tests.builders import make_match, make_season
from tests.factories import AnglerFactory

EVE = dt.datetime(2027, 1, 23, 12, tzinfo=dt.UTC)


@pytest.fixture
def match(club: object) -> Match:
    """Round 1 on 24 January 2027, draw at 08:30, two sections of four, two teams."""
    season = make_season(club, teams=["Reds", "Blues"])  # type: ignore[arg-type]
    return make_match(season=season, sections={"A": 4, "B": 4}, drawn=False, draw_at=dt.time(8, 30))


@pytest.fixture
def reds(match: Match) -> Team:
    team = Team.objects.get(season=match.season, name="Reds")
    for name in ("Ivy Marsh", "Len Hathersage", "Maud Perrin", "Ned Sparrow"):
        SquadMember.objects.create(team=team, angler=AnglerFactory(club=match.club, name=name))
    return team


def _squad(team: Team) -> list[Angler]:
    return [member.angler for member in SquadMember.objects.of(team)]


def _named(match: Match, *anglers: Angler | None) -> list[Place]:
    return [
        Place(section, angler)
        for section, angler in zip(match.sections.all(), anglers, strict=False)
    ]


def _stands(match: Match, team: Team) -> list[tuple[str, str]]:
    found = Entry.objects.of(match).of_team(team).order_by("section__order")
    return [(str(entry.section), entry.angler.name) for entry in found]


def test_a_link_opens_its_team_and_only_a_digest_is_kept(match: Match, reds: Team) -> None:
    link, token = make_link(match, reds, by=None, at=EVE)

    assert opened_by(token) == link
    assert token.split(":")[0] not in str(CaptainPass.objects.values_list())
    assert link.expires_at == dt.datetime(2027, 1, 24, 8, 30, tzinfo=dt.UTC)


def test_a_token_nobody_signed_or_gave_out_opens_nothing(match: Match, reds: Team) -> None:
    _, token = make_link(match, reds, by=None, at=EVE)
    secret, signature = token.rsplit(":", 1)

    assert opened_by(secret) is None
    assert opened_by(f"{secret}:{signature[::-1]}") is None
    assert opened_by(Signer(salt=SALT).sign("made up")) is None
    assert opened_by(Signer(salt="another").sign(secret)) is None


def test_a_link_ends_when_the_draw_begins_and_when_it_is_taken_back(
    match: Match, reds: Team
) -> None:
    link, _ = make_link(match, reds, by=None, at=EVE)

    assert not why_shut(link, dt.datetime(2027, 1, 24, 8, 29, tzinfo=dt.UTC))
    assert "run out" in why_shut(link, dt.datetime(2027, 1, 24, 8, 30, tzinfo=dt.UTC))
    revoke_link(link, by=None)
    link.refresh_from_db()
    assert "taken this link back" in why_shut(link, EVE)


def test_a_link_ends_with_the_draw_of_the_day_the_match_is_moved_to(
    match: Match, reds: Team
) -> None:
    link, _ = make_link(match, reds, by=None, at=EVE)

    for day, begins in ((31, dt.time(9)), (24, dt.time(7, 30))):
        moved = When(dt.date(2027, 1, day), draw_at=begins, all_in=dt.time(10, 30))
        move_match(match, when=moved, by=None)
        link.refresh_from_db()

        draw = dt.datetime.combine(moved.date, begins, dt.UTC)
        assert not why_shut(link, draw - dt.timedelta(minutes=1))
        assert "run out" in why_shut(link, draw)


def test_a_link_of_a_match_moved_to_before_it_was_made_opens_nothing(
    match: Match, reds: Team
) -> None:
    link, _ = make_link(match, reds, by=None, at=EVE)

    move_match(match, when=When(EVE.date() - dt.timedelta(days=1)), by=None)

    link.refresh_from_db()
    assert why_shut(link, EVE)


def test_a_new_link_takes_the_place_of_the_old_one(match: Match, reds: Team) -> None:
    old, _ = make_link(match, reds, by=None, at=EVE)
    make_link(match, reds, by=None, at=EVE)

    old.refresh_from_db()
    assert old.revoked_at == EVE


def test_a_link_taken_back_names_nobody(match: Match, reds: Team) -> None:
    link, _ = make_link(match, reds, by=None, at=EVE)
    revoke_link(link, by=None)

    with pytest.raises(RefusedError, match="taken this link back"):
        name_line_up(match, reds, places=_named(match, *_squad(reds)), by=None, link=link, at=EVE)

    assert not Entry.objects.exists()


def test_a_line_up_is_named_section_by_section_with_a_reserve(match: Match, reds: Team) -> None:
    ivy, len_, maud, _ = _squad(reds)
    link, _ = make_link(match, reds, by=None, at=EVE)

    name_line_up(
        match, reds, places=_named(match, ivy, len_), reserves=[maud], by=None, link=link, at=EVE
    )

    assert _stands(match, reds) == [("A", "Ivy Marsh"), ("B", "Len Hathersage")]
    assert [each.angler for each in Reserve.objects.of_team(match, reds)] == [maud]
    assert Act.objects.latest("pk").what == (
        "Reds named by the captain: A Ivy Marsh and B Len Hathersage. Reserve: Maud Perrin."
    )


def test_named_again_who_stays_keeps_the_number_and_two_may_change_places(
    match: Match, reds: Team
) -> None:
    ivy, len_, maud, _ = _squad(reds)
    name_line_up(match, reds, places=_named(match, ivy, len_), reserves=[maud], by=None)
    numbers = {entry.angler: entry.number for entry in Entry.objects.of(match)}

    name_line_up(match, reds, places=_named(match, len_, ivy), by=None)
    assert {entry.angler: entry.number for entry in Entry.objects.of(match)} == numbers
    name_line_up(match, reds, places=_named(match, maud, ivy), reserves=[len_], by=None)

    assert _stands(match, reds) == [("A", "Maud Perrin"), ("B", "Ivy Marsh")]
    assert [each.angler for each in Reserve.objects.of_team(match, reds)] == [len_]
    assert places_for(match, reds)[0].angler == maud


def test_a_team_may_be_one_short(match: Match, reds: Team) -> None:
    name_line_up(match, reds, places=_named(match, None, _squad(reds)[0]), by=None)

    assert _stands(match, reds) == [("B", "Ivy Marsh")]
    assert [place.angler and place.angler.name for place in places_for(match, reds)] == [
        None,
        "Ivy Marsh",
    ]


def test_slips_are_refused_in_words_and_leave_what_stood(match: Match, reds: Team) -> None:
    ivy, len_, *_ = _squad(reds)
    stranger = AnglerFactory(club=match.club, name="Silas Underhay")
    name_line_up(match, reds, places=_named(match, ivy, len_), by=None)

    for places, said in [
        (_named(match, ivy, ivy), "Ivy Marsh is named twice"),
        (_named(match, None, None), "Nobody is named"),
        (_named(match, ivy, stranger), "Silas Underhay is not in the squad of Reds"),
    ]:
        with pytest.raises(RefusedError, match=said):
            name_line_up(match, reds, places=places, by=None)
    with pytest.raises(RefusedError, match="named twice"):
        name_line_up(match, reds, places=_named(match, ivy), reserves=[ivy], by=None)

    assert _stands(match, reds) == [("A", "Ivy Marsh"), ("B", "Len Hathersage")]


def test_without_a_squad_anybody_may_be_named_who_is_in_no_other(match: Match, reds: Team) -> None:
    blues = Team.objects.get(season=match.season, name="Blues")
    free = AnglerFactory(club=match.club, name="Silas Underhay")
    AnglerFactory(name="Of Another Club")

    assert squad_of(match, blues) == [free]


def test_no_link_is_made_once_the_day_has_come(match: Match, reds: Team) -> None:
    with pytest.raises(RefusedError, match="was to begin by now"):
        make_link(match, reds, by=None, at=EVE + dt.timedelta(days=1))
