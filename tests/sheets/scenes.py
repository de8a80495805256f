"""Matches to print: round 6 at Heron Lake, and larger ones made by a fixed rule."""

from __future__ import annotations

from league.rules.books import WINTER_LEAGUE
from league.rules.lines import MatchResult, Row, SeasonResult, Status
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.table import score_season
from league.rules.weights import Unit, Weight
from league.sheets.page import SheetHead
from league.sheets.published import match_rules
from league.strip import BankPeg

HERON_LAKE = """
A 1 Ana Ferradas | Lamplighters | 6-0
A 2 Keith Wraggley | Tannery Lane | 14-9
A 3 Hugh Amblerton | Bridge End | 4-5
A 4 Sue Hadlowe | Millrace | 11-2
A 5 Ian Peverill | Pennyfold | 9-14
A 7 Dave Scrimshire | Old Quarry | 21-12
B 8 Tracy Fennimore | Old Quarry | 12-8
B 9 Norma Stainsworth | Bridge End | 5-13
B 10 Pete Brackwell | Millrace | blank
B 11 Jo Ormesher | Tannery Lane | 27-6
B 12 Barry Osgathorp | Lamplighters | 8-11
B 15 Alan Garrowby | Pennyfold | 18-1
C 16 Steve Dunnaway | Pennyfold | 4-8
C 17 Geoff Lathamby | Bridge End | 9-10
C 18 Winston Arberry | Millrace | 31-6
C 19 Colin Thurkettle | Old Quarry | 7-5
C 21 Ron Tibbald | Lamplighters | not weighed
C 22 Ray Tolliver | Tannery Lane | 16-3
D 23 Tom K. (junior) | Bridge End | 2-15
D 24 Len Cudworthy | Millrace | 9-4
D 25 Marek Wilczyk | Pennyfold | 19-0
D 26 Balvir Sandhar | Tannery Lane | 3-2
D 29 Chris Maddern | Lamplighters | 9-4
D 30 Mick Oldacre | Old Quarry | 16-7
"""


def rows_of(text: str, unit: Unit = Unit.LB_OZ) -> list[Row]:
    """Read rows as `section peg name | team | weight or status`."""
    rows = []
    for line in text.strip().splitlines():
        who, team, figure = (part.strip() for part in line.split("|"))
        section, peg, angler = who.split(" ", 2)
        is_weight = figure[0].isdigit()
        rows.append(
            Row(
                section,
                peg,
                angler,
                team,
                Status.WEIGHED if is_weight else Status(figure),
                (Weight.parse(figure, unit).amount,) if is_weight else (),
            )
        )
    return rows


def heron_lake(book: Rulebook = WINTER_LEAGUE) -> MatchResult:
    """Round 6 of the winter team league."""
    return score_match(rows_of(HERON_LAKE), book)


def bank_of(result: MatchResult) -> list[BankPeg]:
    """The bank that the anglers of *result* sat on; numbers missing between are left out."""
    pegs = sorted(
        (int(line.row.peg), section.section)
        for section in result.sections
        for line in section.lines
    )
    bank = []
    before = pegs[0][0] - 1
    for order, (number, section) in enumerate(pegs, start=1):
        left_out = tuple(str(each) for each in range(before + 1, number))
        bank.append(BankPeg(str(number), order, len(left_out), left_out, section))
        before = number
    return bank


def round_six(**values: object) -> SheetHead:
    """The head of the sheet of round 6, as it went up that evening."""
    given: dict[str, object] = {
        "club": "Marlbrook & District AC",
        "title": "Round 6, Heron Lake",
        "series": "Winter Team League 2026–27",
        "date": "Sunday 24 January 2027",
        "headline": "Tannery Lane win on total weight",
        "state": "provisional",
        "version": 2,
        "printed": "18:09",
        "objections": "Objections until Monday 20:00",
        "address": "https://marlbrook.example/r/6",
        "rules": match_rules(WINTER_LEAGUE),
    }
    return SheetHead(**{**given, **values})  # type: ignore[arg-type]


def big_match(
    sections: int, size: int, *, teams: bool = True, book: Rulebook = WINTER_LEAGUE
) -> MatchResult:
    """*sections* of *size*, weights by a fixed rule: skewed, with a blank in every seventh peg."""
    rows = []
    for number in range(sections * size):
        section, seat = divmod(number, size)
        drams = (number * 7919) % 613 * ((number * 104729) % 17)
        drams -= drams % 16
        is_blank = number % 7 == 3 or drams == 0
        rows.append(
            Row(
                chr(ord("A") + section),
                str(number + 1),
                f"{FIRST[number % len(FIRST)]} {LAST[(number * 5) % len(LAST)]}",
                f"{TEAMS[(seat + section) % size % len(TEAMS)]}{_roman(seat, section, size)}"
                if teams
                else "",
                Status.BLANK if is_blank else Status.WEIGHED,
                () if is_blank else (drams,),
                angler_id=str(number),
            )
        )
    return score_match(rows, book)


def _roman(seat: int, section: int, size: int) -> str:
    return ("", " B", " C", " D", " E")[(seat + section) % size // len(TEAMS)]


FIRST = ("Ana", "Keith", "Hugh", "Sue", "Ian", "Dave", "Tracy", "Norma", "Pete", "Jo", "Barry")
LAST = ("Ferradas", "Wraggley", "Amblerton", "Hadlowe", "Peverill", "Scrimshire", "Fennimore",
        "Stainsworth", "Brackwell", "Ormesher", "Osgathorp", "Garrowby", "Lathamby")  # fmt: skip
TEAMS = ("Tannery Lane", "Old Quarry", "Pennyfold", "Millrace", "Lamplighters", "Bridge End",
         "Fallow Mere", "Coldharbour", "Saltway", "Kiln Row", "Withy Beds",
         "Packhorse")  # fmt: skip


def winter_table(rounds: int = 6, teams: int = 6) -> SeasonResult:
    """A season in which the same teams meet and every round turns the order by one."""
    held = []
    for number in range(1, rounds + 1):
        rows = []
        for section, letter in enumerate("ABCD"):
            for seat, team in enumerate(TEAM_NAMES[:teams]):
                pounds = (seat * 3 + number + section) % teams + 1
                peg = str(section * teams + seat + 1)
                # An ounce more for each seat, so that hardly anybody is level.
                rows.append(
                    Row(letter, peg, f"{team} {letter}", team, nets=(pounds * 256 + seat * 16,))
                )
        held.append((number, score_match(rows, WINTER_LEAGUE)))
    return score_season(held, WINTER_LEAGUE, planned=rounds + 1)


TEAM_NAMES = (*TEAMS, *(f"{name} B" for name in TEAMS), *(f"{name} C" for name in TEAMS),
              *(f"{name} D" for name in TEAMS))  # fmt: skip
