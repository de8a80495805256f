"""Every sheet: fonts in the file, language and title set, the same bytes for the same data."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest

from league.rules.weights import Unit
from league.sheets.page import A4
from league.sheets.pegs import DrawnPeg, peg_sheet
from league.sheets.result import result_sheet
from league.sheets.table import table_sheet
from league.sheets.weigh import Stop, weigh_sheet
from tests.sheets.reading import fonts_of, pictures_of, reader
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


def test_sheets_printed_at_once_do_not_spoil_one_another(
    request: pytest.FixtureRequest,
) -> None:
    def printed(number: int) -> bytes:
        # Letters with accents are put together of parts, which takes the longest to cut out.
        return result_sheet(round_six(club="Čerňák-Őry ŞükrüŁ Đình"[number % 12 :]), heron_lake())

    alone = [printed(number) for number in range(60)]
    usual = sys.getswitchinterval()
    # Turn and turn about at every step: what could clash, does.
    sys.setswitchinterval(1e-6)
    request.addfinalizer(lambda: sys.setswitchinterval(usual))
    with ThreadPoolExecutor(max_workers=8) as crew:
        assert list(crew.map(printed, range(60))) == alone


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


def test_the_code_keeps_four_modules_of_white_all_round() -> None:
    pdf = SHEETS["results"]()
    (note,) = reader(pdf).pages[0]["/Annots"]
    left, foot, right, top = (float(edge) for edge in note.get_object()["/Rect"])
    dots = 288 / 72
    picture = pictures_of(pdf, dots=288)[0].convert("L")
    code = picture.crop(
        tuple(round(edge * dots) for edge in (left, A4.height - top, right, A4.height - foot))
    )
    modules = 29 + 8  # 29 letters at level M need version 3; ISO/IEC 18004 asks for 4 all round
    white = int(code.width / modules * 4) - 1
    dark = code.point(lambda shade: 255 * (shade < 128)).getbbox()
    assert dark is not None
    assert min(dark[0], dark[1], code.width - dark[2], code.height - dark[3]) >= white
    assert max(dark[0], dark[1]) <= white + 4
