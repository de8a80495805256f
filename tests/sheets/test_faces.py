"""Words are broken into lines that fit, and none is lost."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from league.sheets import faces

faces.load_faces()
WORDS = st.text(alphabet="abcxyzÀŁő-'½ ", max_size=120)


@given(WORDS, st.floats(30, 200))
@settings(deadline=None)
def test_every_line_fits_and_the_lines_together_say_the_whole(text: str, room: float) -> None:
    lines = faces.wrap(text, faces.WORDS, 9, room)
    assert all(faces.width(line, faces.WORDS, 9) <= room + 1e-6 for line in lines)
    said = "".join(lines).replace(" ", "").replace("-", "")
    assert said == text.replace(" ", "").replace("-", "")


def test_a_name_too_long_for_a_line_is_broken_at_its_hyphen() -> None:
    name = "Featherstonehaugh-Cholmondeley"
    assert faces.wrap(
        name, faces.WORDS, 9, faces.width("Featherstonehaugh-Cho", faces.WORDS, 9)
    ) == (
        "Featherstonehaugh-",
        "Cholmondeley",
    )


def test_a_weight_stays_on_one_line() -> None:
    text = f"against {faces.unbroken('58 lb 0 oz')}"
    room = faces.width("against 58 lb", faces.WORDS, 9)
    assert faces.wrap(text, faces.WORDS, 9, room) == ("against", "58\u00a0lb\u00a00\u00a0oz")


def test_a_letter_the_narrow_face_lacks_comes_from_the_other() -> None:
    assert faces.face_for("11½", faces.BOARD_MID) == faces.BOARD_MID
    assert faces.face_for("11⅓", faces.BOARD_MID) == faces.WORDS_BOLD
