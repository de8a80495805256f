"""Who fishes: booked in, in a section, withdrawn, replaced by a reserve."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.models import Club, DrawRecord, Entry, Match, Section, SquadMember, Stage, Team
from league.operations.draw import draw_match, freeze
from league.operations.errors import RefusedError
from league.operations.lineup import book_in, bring_in, choose_section, withdraw
from tests.builders import make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, ClubFactory


@pytest.fixture
def match(club: Club) -> Match:
    season = make_season(club, teams=["Old Quarry", "Tannery Lane"])
    return make_match(season=season, sections={"A": 4, "B": 4}, drawn=False)


def _team(match: Match, name: str = "Old Quarry") -> Team:
    return Team.objects.get(season=match.season, name=name)


def _section(match: Match, letter: str = "A") -> Section:
    return match.sections.get(letter=letter)


def test_entries_are_numbered_as_they_book_in(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    dave = AnglerFactory(club=match.club, name="Dave Scrimshire")
    entry = book_in(match, dave, team=_team(match), section=_section(match), by=sam)
    second = book_in(match, AnglerFactory(club=match.club), by=sam)
    withdraw(second, by=sam)
    third = book_in(match, second.angler, by=sam)

    assert (entry.number, second.number, third.number) == (1, 2, 3)
    assert entry.alone_in_section
    assert not third.alone_in_section
    assert journal()[0] == "Dave Scrimshire booked in as 1, Old Quarry."


def test_the_need_on_record_holds_unless_it_is_said_otherwise(match: Match, sam: User) -> None:
    needs = AnglerFactory(club=match.club, easy_access=True)
    other = AnglerFactory(club=match.club, easy_access=True)

    assert book_in(match, needs, by=sam).easy_access is True
    assert book_in(match, other, easy_access=False, by=sam).easy_access is False


def test_an_angler_is_booked_in_once(match: Match, sam: User) -> None:
    angler = AnglerFactory(club=match.club)
    book_in(match, angler, by=sam)

    with pytest.raises(RefusedError) as refusal:
        book_in(match, angler, by=sam)

    assert str(refusal.value) == "This angler is already booked in."


def test_a_team_has_so_many_members_in_a_section_as_the_match_says(match: Match, sam: User) -> None:
    ours, section = _team(match), _section(match)
    dave = AnglerFactory(club=match.club, name="Dave Scrimshire")
    book_in(match, dave, team=ours, section=section, by=sam)

    with pytest.raises(RefusedError) as refusal:
        book_in(match, AnglerFactory(club=match.club), team=ours, section=section, by=sam)

    assert str(refusal.value) == (
        "Old Quarry already has Dave Scrimshire in section A; a section takes 1 of a team."
    )
    book_in(match, AnglerFactory(club=match.club), team=_team(match, "Tannery Lane"),
            section=section, by=sam)  # fmt: skip


def test_two_of_a_team_may_share_a_section_where_the_match_says_so(match: Match, sam: User) -> None:
    match.per_section = 2
    match.save()
    ours, section = _team(match), _section(match)
    for _ in range(2):
        book_in(match, AnglerFactory(club=match.club), team=ours, section=section, by=sam)

    with pytest.raises(RefusedError) as refusal:
        book_in(match, AnglerFactory(club=match.club), team=ours, section=section, by=sam)

    assert str(refusal.value).endswith("a section takes 2 of a team.")


def test_strangers_to_the_club_the_season_the_squad_and_the_match_are_refused(
    match: Match, sam: User
) -> None:
    stranger = AnglerFactory(club=ClubFactory(), name="Ana Ferradas")
    theirs = AnglerFactory(club=match.club, name="Keith Wraggley")
    SquadMember.objects.create(team=_team(match, "Tannery Lane"), angler=theirs)
    other_season = make_season(match.club, teams=["Bridge End"])
    elsewhere = make_match(match.club, sections={"C": 1})

    refusals = {
        "club": lambda: book_in(match, stranger, by=sam),
        "squad": lambda: book_in(match, theirs, team=_team(match), by=sam),
        "season": lambda: book_in(
            match, AnglerFactory(club=match.club), team=other_season.teams.get(), by=sam
        ),
        "section": lambda: book_in(
            match, AnglerFactory(club=match.club), section=elsewhere.sections.get(), by=sam
        ),
    }
    said = {}
    for name, act in refusals.items():
        with pytest.raises(RefusedError) as refusal:
            act()
        said[name] = str(refusal.value)

    assert said == {
        "club": "Ana Ferradas is not an angler of the club.",
        "squad": "Keith Wraggley is in the squad of Tannery Lane, not of Old Quarry.",
        "season": "Bridge End does not fish this league this season.",
        "section": "Section C belongs to another match.",
    }
    assert not Entry.objects.of(match).exists()


def test_a_section_is_chosen_and_changed_before_the_draw(match: Match, sam: User) -> None:
    entry = book_in(match, AnglerFactory(club=match.club), team=_team(match), by=sam)

    assert choose_section(entry, _section(match, "B"), by=sam).section == _section(match, "B")
    assert choose_section(entry, _section(match, "B"), by=sam).section == _section(match, "B")
    assert choose_section(entry, None, by=sam).section is None


def test_a_frozen_sheet_holds_the_line_up(match: Match, sam: User) -> None:
    entry = book_in(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    freeze(match, by=sam)

    for act in (
        lambda: book_in(match, AnglerFactory(club=match.club), by=sam),
        lambda: withdraw(entry, by=sam),
        lambda: choose_section(entry, None, by=sam),
    ):
        with pytest.raises(RefusedError) as refusal:
            act()
        assert str(refusal.value).startswith("The draw sheet is frozen.")


def test_after_the_draw_an_angler_comes_in_as_a_late_entry(match: Match, sam: User) -> None:
    book_in(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    draw_match(match, by=sam)

    with pytest.raises(RefusedError) as refusal:
        book_in(match, AnglerFactory(club=match.club), by=sam)

    assert str(refusal.value).startswith("The pegs are drawn. Bring the angler in as a late entry")


def test_nobody_books_in_for_a_cancelled_match(match: Match, sam: User) -> None:
    match.stage = Stage.CANCELLED
    match.save()

    with pytest.raises(RefusedError) as refusal:
        book_in(match, AnglerFactory(club=match.club), by=sam)

    assert str(refusal.value) == "The match is cancelled, so nobody can be booked in or out."


def test_who_has_a_peg_is_put_down_at_the_scales_instead(match: Match, sam: User) -> None:
    dave = AnglerFactory(club=match.club, name="Dave Scrimshire")
    entry = make_entry(match, peg=3, angler=dave)

    with pytest.raises(RefusedError) as refusal:
        withdraw(entry, by=sam)

    assert str(refusal.value) == (
        "Dave Scrimshire has drawn peg A 3. Put the angler down as absent, or as withdrew, at the "
        "scales: the peg and the section stay as drawn."
    )


def test_nobody_withdraws_twice(match: Match, sam: User) -> None:
    entry = book_in(match, AnglerFactory(club=match.club, name="Dave Scrimshire"), by=sam)
    withdraw(entry, by=sam)

    with pytest.raises(RefusedError) as refusal:
        withdraw(entry, by=sam)

    assert str(refusal.value) == "Dave Scrimshire is withdrawn already."


def test_a_reserve_takes_the_number_the_team_and_the_peg(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    ill = AnglerFactory(club=match.club, name="Dave Scrimshire")
    entry = book_in(match, ill, team=_team(match), section=_section(match), by=sam)
    draw_match(match, by=sam)
    entry.refresh_from_db()
    peg, reserve = entry.match_peg, AnglerFactory(club=match.club, name="Ted Hollis")

    bring_in(entry, reserve, by=sam)

    entry.refresh_from_db()
    assert (entry.angler, entry.number, entry.match_peg, entry.reserve) == (reserve, 1, peg, True)
    assert DrawRecord.objects.get().names == {"1": "Ted Hollis"}
    assert journal()[-1] == "Ted Hollis comes in for Dave Scrimshire, entry 1."


def test_a_reserve_who_cannot_come_in_is_refused(match: Match, sam: User) -> None:
    entry = make_entry(match, peg=1, team=_team(match), name="Dave Scrimshire")
    booked = make_entry(match, peg=2, name="Ted Hollis")
    theirs = AnglerFactory(club=match.club, name="Keith Wraggley")
    SquadMember.objects.create(team=_team(match, "Tannery Lane"), angler=theirs)
    needs = AnglerFactory(club=match.club, name="Rose Amblerton", easy_access=True)
    stranger = AnglerFactory(club=ClubFactory(), name="Ana Ferradas")

    said = []
    for angler in (booked.angler, theirs, needs, stranger):
        with pytest.raises(RefusedError) as refusal:
            bring_in(entry, angler, by=sam)
        said.append(str(refusal.value))
    make_weigh_in(entry, "1-0")
    with pytest.raises(RefusedError) as weighed:
        bring_in(entry, AnglerFactory(club=match.club), by=sam)

    assert said == [
        "Ted Hollis is booked in already.",
        "Keith Wraggley is in the squad of Tannery Lane, not of Old Quarry.",
        "Rose Amblerton needs an easy-access peg, and A 1 is none.",
        "Ana Ferradas is not an angler of the club.",
    ]
    assert str(weighed.value) == "Dave Scrimshire is weighed, so nobody can come in instead."
    match.stage = Stage.PUBLISHED
    match.save()
    with pytest.raises(RefusedError) as late:
        bring_in(entry, needs, by=sam)
    assert str(late.value) == "The line-up cannot change any more: the result is published."
