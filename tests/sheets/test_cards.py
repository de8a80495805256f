"""Cards to cut out, and the bailiff's plan: everything on them, nothing over a cut or an edge."""

from __future__ import annotations

import pytest

from league.sheets import cautions
from league.sheets.cards import Member, TeamCard, Ticket, line_up_cards, peg_tickets, team_cards
from league.sheets.page import A4, MM, SheetHead
from league.sheets.plan import PlannedPeg, peg_plan
from tests.sheets.reading import codes_of, fonts_of, letters_of, pages_of, words_of

CLUB, MATCH, WHEN = "Marlbrook & District AC", "Round 7, Fallow Mere", "Sunday 14 February 2027"
LONG = "Bartholomew Featherstonehaugh-Wolstenholme"


def tickets(count: int, section: str = "A") -> bytes:
    return peg_tickets(
        [Ticket(str(n), section, n == 2) for n in range(1, count + 1)], club=CLUB, match=MATCH
    )


def team(name: str, size: int = 4, angler: str = "Jo Ormesher") -> TeamCard:
    return TeamCard(
        name,
        tuple(Member(letter, str(n), angler) for n, letter in enumerate("ABCDEFGH"[:size], 41)),
    )


def test_a_ticket_has_its_peg_in_big_figures_its_section_and_its_match() -> None:
    pdf = tickets(3)

    assert words_of(pdf).count(MATCH) == 3
    assert "easy access" in words_of(pdf)
    big = [letter for letter in letters_of(pdf) if letter["size"] > 50]
    assert [letter["text"] for letter in big] == ["1", "2", "3"]
    assert [letter["text"] for letter in letters_of(pdf) if letter["text"] == "A"] != []


@pytest.mark.parametrize(("pegs", "pages"), [(0, 1), (18, 1), (19, 2), (96, 6)])
def test_eighteen_tickets_a_page_and_every_peg_once(pegs: int, pages: int) -> None:
    pdf = tickets(pegs)

    assert len(pages_of(pdf)) == pages
    big = "".join(letter["text"] for letter in letters_of(pdf) if letter["size"] > 30)
    assert big == "".join(str(n) for n in range(1, pegs + 1))


def test_no_figure_of_a_ticket_crosses_a_line_to_cut_along() -> None:
    pdf = peg_tickets(
        [Ticket(peg, "A") for peg in ("106", "W12345", "88888888")], club=CLUB, match=MATCH
    )

    wide = (A4.width - 16 * MM) / 3
    for letter in letters_of(pdf):
        left, right = letter["x0"] - 8 * MM, letter["x1"] - 8 * MM
        assert int(left // wide) == int(right // wide), letter["text"]


@pytest.mark.parametrize("size", [2, 4, 8])
def test_a_team_card_has_every_member_and_the_cautions(size: int) -> None:
    pdf = team_cards([team("Tannery Lane", size)], club=CLUB, match=MATCH, when=WHEN)

    words = words_of(pdf)
    assert f"{MATCH}, {WHEN}" in words
    assert words.count("Jo Ormesher") == size
    for n in range(41, 41 + size):
        assert f" {n} " in f" {words} "
    assert cautions.FIRST in words
    assert cautions.SHORT.replace("\u00a0", " ") in words


def test_the_longest_names_stay_on_their_card() -> None:
    cards = [team(f"{LONG} {LONG}", 8, LONG) for _ in range(4)]

    pdf = team_cards(cards, club=CLUB, match=MATCH, when=WHEN)

    middle = A4.width / 2
    for letter in letters_of(pdf):
        assert (letter["x0"] < middle) == (letter["x1"] <= middle), letter["text"]
        assert letter["x0"] >= 8 * MM
        assert letter["x1"] <= A4.width - 8 * MM
    assert words_of(pdf).replace("- ", "-").count("Bartholomew") == 4 * (8 + 2)


def test_a_captains_card_has_room_for_every_section_a_reserve_and_a_name_under_it() -> None:
    lines = tuple(Member(letter) for letter in "ABCD")

    words = words_of(
        line_up_cards([TeamCard("Old Quarry", lines)], club=CLUB, match=MATCH, when=WHEN)
    )

    assert "Old Quarry A B C D Reserve Captain" in words


def test_every_face_is_in_the_file_and_the_same_cards_give_the_same_bytes() -> None:
    assert all(embedded for _, embedded in fonts_of(tickets(4)))
    assert tickets(4) == tickets(4)


# ---- the plan

HEAD = SheetHead(
    CLUB,
    MATCH,
    date=WHEN,
    address="https://marlbrook.example/matches/20/",
    notes=("The gate is locked at 17:00.",),
)
BANK = (
    PlannedPeg("60", "C", hazard="overhead power line at 61."),
    PlannedPeg("61", why="overhead power line", gap_after=True),
    PlannedPeg("62", "D", easy_access=True),
)


def test_the_plan_has_every_peg_in_the_order_of_the_bank_with_its_hazard() -> None:
    words = words_of(peg_plan(HEAD, BANK))

    assert "60 C overhead power line at 61 61" in words
    assert "61 – left out: overhead power line bank breaks after this peg" in words
    assert "62 D easy access" in words
    assert "The gate is locked at 17:00." in words


def test_the_plan_carries_every_caution_whole_with_the_law_first() -> None:
    words = words_of(peg_plan(HEAD, BANK))

    first = words.index("Venue rules, local codes and the law come first.")
    for title, said in cautions.ALL:
        assert f"{title}. {said}".replace("\u00a0", " ") in words
        assert words.index(f"{title}. ") > first
    assert cautions.ADVICE in words
    assert codes_of(peg_plan(HEAD, BANK)) == ["https://marlbrook.example/matches/20/"]


def test_a_bank_of_two_hundred_pegs_is_all_there() -> None:
    bank = [PlannedPeg(str(n), "ABCDEFGH"[n // 26]) for n in range(1, 201)]

    words = words_of(peg_plan(HEAD, bank))

    for peg in bank:
        assert f" {peg.peg} {peg.section} " in words
