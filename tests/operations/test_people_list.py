"""A list brought in: looked over, decided on, written at once or not at all."""

from __future__ import annotations

from io import BytesIO

import pytest
from openpyxl import Workbook, load_workbook

from league.files.people import read_people
from league.models import Act, Angler, Club
from league.operations.errors import RefusedError
from league.operations.people_list import Kind, as_spreadsheet, bring_in_people, people_in, plan
from league.rules.errors import SheetError
from tests.factories import AnglerFactory


def _spreadsheet(*rows: tuple[object, ...]) -> bytes:
    book = Workbook()
    for row in rows:
        book.active.append(row)
    kept = BytesIO()
    book.save(kept)
    return kept.getvalue()


@pytest.fixture
def robert(club: Club) -> Angler:
    return AnglerFactory(club=club, name="Robert Smith", email="rob@example.test")


def test_the_look_says_who_is_new_who_is_known_and_who_may_be_and_writes_nothing(
    club: Club, robert: Angler
) -> None:
    AnglerFactory(club=club, name="Ivy Marsh")
    AnglerFactory(name="Tom Kerrow")  # of another club

    found = plan(
        club,
        read_people("name,email,junior\nIvy Marsh,ivy@example.test,\nBob Smith,,\nTom Kerrow,,y"),
    )

    assert [each.kind for each in found] == [Kind.KNOWN, Kind.LIKELY, Kind.NEW]
    assert found[0].changes == ("another e-mail address",)
    (guess,) = found[1].guesses
    assert (guess.angler, guess.likeness.words) == (robert, "a short name for the same first name")
    assert Angler.objects.of(club).count() == 2
    assert not Act.objects.exists()


def test_what_was_said_of_each_is_done(club: Club, robert: Angler) -> None:
    people = read_people("name,easy access\nBob Smith,yes\nR. Smith,\nTom Kerrow,")

    brought = bring_in_people(club, people, said={2: str(robert.pk), 3: "new"}, by=None)

    assert (brought.added, brought.changed, brought.left) == (2, 1, 0)
    robert.refresh_from_db()
    assert (robert.name, robert.easy_access, robert.email) == (
        "Robert Smith",
        True,
        "rob@example.test",
    )
    assert [angler.name for angler in Angler.objects.of(club)] == [
        "R. Smith",
        "Robert Smith",
        "Tom Kerrow",
    ]


def test_nothing_is_written_while_one_row_is_undecided(club: Club, robert: Angler) -> None:
    people = read_people("name\nTom Kerrow\nBob Smith")

    with pytest.raises(RefusedError, match="Say whether Bob Smith is somebody new"):
        bring_in_people(club, people, said={}, by=None)

    assert Angler.objects.of(club).count() == 1


def test_two_rows_cannot_be_one_angler(club: Club, robert: Angler) -> None:
    people = read_people("name\nR. Smith\nBob Smith")
    both = {2: str(robert.pk), 3: str(robert.pk)}

    with pytest.raises(RefusedError, match=r"R\. Smith and Bob Smith would be one angler"):
        bring_in_people(club, people, said=both, by=None)


def test_bringing_the_same_list_twice_changes_nothing_the_second_time(club: Club) -> None:
    people = read_people("name,junior\nTom Kerrow,yes\nIvy Marsh,no")
    bring_in_people(club, people, said={}, by=None)

    again = bring_in_people(club, people, said={}, by=None)

    assert (again.added, again.changed, again.left) == (0, 0, 2)


def test_a_spreadsheet_is_read_as_it_looks() -> None:
    people = people_in(
        _spreadsheet(
            (None, None),
            ("Name", "Junior", "E-mail"),
            ("Tom Kerrow", True, "tom@example.test"),
            (None, None, None),
            ("Zoë Löfgren", False, None, None),
        )
    )

    assert [(each.row, each.name, each.junior) for each in people.people] == [
        (3, "Tom Kerrow", True),
        (5, "Zoë Löfgren", False),
    ]


def test_faults_of_a_spreadsheet_name_its_own_rows() -> None:
    with pytest.raises(
        SheetError, match=r"Row 3, junior: Write yes or no, or nothing, not 'maybe'"
    ):
        people_in(_spreadsheet(("Name", "Junior"), ("Tom", None), ("Ned", "maybe")))


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"PK\x03\x04 and then nothing of a spreadsheet", "cannot be read"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "of the old kind"),
        (b"name\n" + b"x" * 2_000_001, "over 2 MB"),
    ],
)
def test_a_file_that_is_no_list_is_refused_in_words(content: bytes, said: str) -> None:
    with pytest.raises(RefusedError, match=said):
        people_in(content)


def test_any_part_of_a_spreadsheet_cut_off_is_refused_and_is_no_fault() -> None:
    whole = _spreadsheet(("Name", "Junior"), ("Tom Kerrow", True))

    for length in range(10, len(whole) - 1, 211):
        with pytest.raises((RefusedError, SheetError)):
            people_in(whole[:length])


def test_the_list_goes_out_as_a_spreadsheet_that_can_be_brought_in_again(
    club: Club, robert: Angler
) -> None:
    AnglerFactory(club=club, name="Tom Kerrow", junior=True)

    sheet = as_spreadsheet(club)

    rows = list(load_workbook(BytesIO(sheet)).active.values)
    assert rows[1] == ("Robert Smith", "rob@example.test", "no", "no", "no", "no")
    assert rows[2][:3] == ("Tom Kerrow", None, "yes")
    again = bring_in_people(club, people_in(sheet), said={}, by=None)
    assert (again.added, again.changed, again.left) == (0, 0, 2)
