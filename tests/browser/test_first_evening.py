"""From an empty database to a drawn match of teams of four, as a secretary would; counted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import Locator, Page, expect

from league.models import Club, Entry, Match, SquadMember, Stage, Team
from league.operations.first_run import first_run_key

TEAMS = """Tannery Lane: Jo Ormesher (captain), Ray Tolliver, Keith Wraggley, Balvir Sandhar
Old Quarry: Dave Scrimshire (captain), Mick Oldacre, Tracy Fennimore, Colin Thurkettle
Millrace: Len Cudworthy (captain), Sue Hadlowe, Pete Brackwell, Winston Arberry
Pennyfold: Alan Garrowby (captain), Ian Peverill, Marek Wilczyk, Steve Dunnaway
Lamplighters: Barry Osgathorp (captain), Ana Ferradas, Chris Maddern, Ron Tibbald
Bridge End: Geoff Lathamby (captain), Hugh Amblerton, Norma Stainsworth, Tom Kettleby
"""
PEGS = "1-24, 26-60, not 13, easy 1-4 and 60, gap after 24"
MOST = 60
# What each act took, a click or a box filled counting one; more would be a page grown clumsy.
INTERACTIONS = {
    "first run: club, water and pegs, league, who": 8,
    "six teams with their squads": 2,
    "seven rounds, one a fortnight": 2,
    "four sections for round 1": 3,
    "twenty-four anglers booked in, with their sections": 2,
    "the draw: sheet frozen, six numbers called": 9,
}


@dataclass
class Hand:
    """A secretary's hand: every click, every box filled, counted under what it was done for."""

    page: Page
    counts: dict[str, int] = field(default_factory=dict)
    act: str = ""

    def begins(self, act: str) -> None:
        self.act = act
        self.counts[act] = 0

    def clicks(self, where: Locator) -> None:
        self.counts[self.act] += 1
        where.click()

    def fills(self, label: str, text: str) -> None:
        self.counts[self.act] += 1
        self.page.locator("main").get_by_label(label, exact=True).and_(
            self.page.locator("input, textarea, select")
        ).fill(text)

    def presses(self, name: str) -> None:
        self.clicks(self.page.get_by_role("button", name=name, exact=True))

    def follows(self, name: str) -> None:
        self.clicks(self.page.get_by_role("link", name=name, exact=True).first)

    @property
    def total(self) -> int:
        return sum(self.counts.values())


def begin(hand: Hand) -> None:
    """The four questions of the first run."""
    page = hand.page
    hand.begins("first run: club, water and pegs, league, who")
    hand.fills("The club’s name", "Marlbrook & District AC")
    hand.fills("A water you fish", "Heron Lake")
    hand.fills("Pegs, the way you say them", PEGS)
    # Drawn while it is said, before anything is sent.
    expect(page.locator("[data-said] svg.bank-svg:visible").first).to_be_visible()
    hand.presses("Look at the bank, then go on")
    expect(page.get_by_role("heading", level=1)).to_have_text("Heron Lake has 58 pegs")
    hand.fills("Your name", "Len Cudworthy")
    hand.fills("Sign-in name", "len")
    hand.fills("Password", "bream-under-the-bridge")
    hand.presses("Set the club up")
    expect(page.get_by_role("heading", level=1)).to_contain_text("has no teams yet")


def enter_teams(hand: Hand) -> None:
    hand.begins("six teams with their squads")
    hand.fills("Teams", TEAMS)
    hand.presses("Enter these teams")
    expect(hand.page.get_by_role("heading", level=1)).to_contain_text("has no rounds yet")


def plan_rounds(hand: Hand) -> None:
    hand.begins("seven rounds, one a fortnight")
    hand.fills("How many rounds (may be left empty)", "7")
    hand.presses("Plan these rounds")
    expect(hand.page.get_by_role("heading", level=1)).to_contain_text("is set up")


def make_sections(hand: Hand) -> None:
    hand.begins("four sections for round 1")
    hand.follows("Run round 1")
    hand.fills("Pegs (may be left empty)", "1-12, 14-24, 26")
    hand.presses("Make the sections")


def book_in(hand: Hand) -> None:
    hand.begins("twenty-four anglers booked in, with their sections")
    hand.follows("All line-ups at once, from the squads")
    hand.presses("Book these line-ups in")


def draw(hand: Hand) -> None:
    page = hand.page
    hand.begins("the draw: sheet frozen, six numbers called")
    hand.clicks(page.locator("a.next"))
    hand.presses("Freeze the draw sheet")
    boxes = page.locator("form[data-calls] input[type=text]")
    for at in range(boxes.count()):
        hand.counts[hand.act] += 1
        boxes.nth(at).fill(str(1000 + 37 * at))
    hand.presses("Take the numbers down")


def test_an_empty_database_becomes_a_drawn_match_of_teams_of_four_in_under_sixty_interactions(
    open_page: Callable[..., Page], transactional_db: Any
) -> None:
    assert not Club.objects.exists()
    page = open_page(f"/start/?key={first_run_key()}")
    hand = Hand(page)

    begin(hand)
    enter_teams(hand)
    plan_rounds(hand)
    make_sections(hand)
    book_in(hand)
    draw(hand)

    match = Match.objects.get(round=1)
    expect(page.get_by_text("The pegs are drawn", exact=True)).to_be_visible()
    match.refresh_from_db()
    assert match.stage == Stage.DRAWN
    assert Team.objects.count() == 6
    assert SquadMember.objects.count() == 24
    entries = list(Entry.objects.of(match).with_names())
    assert len({entry.match_peg_id for entry in entries}) == 24
    for team in Team.objects.all():
        assert sorted(str(e.section) for e in entries if e.team_id == team.pk) == list("ABCD")
    assert hand.counts == INTERACTIONS
    assert hand.total < MOST
