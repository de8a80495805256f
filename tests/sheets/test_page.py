"""Every sheet: fonts in the file, language and title set, the same bytes for the same data."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest

from league.rules.weights import Unit
from league.sheets.pegs import DrawnPeg, peg_sheet
from league.sheets.result import result_sheet
from league.sheets.table import table_sheet
from league.sheets.weigh import Stop, weigh_sheet
from tests.sheets.reading import fonts_of, reader
from tests.sheets.scenes import bank_of, heron_lake, round_six, winter_table

SHEETS: dict[str, Callable[[], bytes]] = {
    "results": lambda: result_sheet(round_six(), heron_lake(), bank=bank_of(heron_lake())),
    "weigh sheet": lambda: weigh_sheet(
        round_six(), [Stop("56", "Tom K. (junior)", "Bridge End", "C")], unit=Unit.LB_OZ
    ),
    "who is where": lambda: peg_sheet(round_six(), [DrawnPeg("1", "Ana Ferradas", "Saltway", "A")]),
    "table": lambda: table_sheet(round_six(), winter_table()),
}
every_sheet = pytest.mark.parametrize("name", SHEETS)


@every_sheet
def test_every_font_named_is_in_the_file_and_none_is_helvetica(name: str) -> None:
    fonts = list(fonts_of(SHEETS[name]()))
    assert fonts
    assert all(embedded for _, embedded in fonts), fonts
    assert {font.split("+")[1].split("-")[0] for font, _ in fonts} <= {"Literata", "ArchivoNarrow"}


@every_sheet
def test_the_same_data_give_the_same_bytes(name: str) -> None:
    assert SHEETS[name]() == SHEETS[name]()


def test_another_process_with_other_hashes_gives_the_same_bytes() -> None:
    script = (
        "import hashlib, sys; from tests.sheets.test_page import SHEETS; "
        "sys.stdout.write(hashlib.sha256(SHEETS['results']()).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": "."},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert found == {hashlib.sha256(SHEETS["results"]()).hexdigest()}


def test_sheets_printed_at_once_do_not_spoil_one_another() -> None:
    alone = {name: make() for name, make in SHEETS.items()}
    with ThreadPoolExecutor(max_workers=8) as crew:
        together = [(name, crew.submit(make)) for _ in range(10) for name, make in SHEETS.items()]
    assert all(made.result() == alone[name] for name, made in together)


@every_sheet
def test_title_club_and_language_are_set(name: str) -> None:
    document = reader(SHEETS[name]())
    about = document.metadata
    assert about is not None
    assert about.title is not None
    assert about.title.startswith("Round 6, Heron Lake")
    assert about.title.endswith(f": {name}")
    assert about.author == "Marlbrook & District AC"
    root = document.trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"].value is True


@every_sheet
def test_the_address_can_be_followed(name: str) -> None:
    links = [
        note.get_object()["/A"]["/URI"]
        for page in reader(SHEETS[name]()).pages
        for note in page.get("/Annots", [])
    ]
    assert links == ["https://marlbrook.example/r/6"]
