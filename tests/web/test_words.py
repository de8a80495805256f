"""What pages say and how they set it: the examples beside the functions, and what is not there."""

import datetime as dt
import doctest

import pytest

from league.rules.weights import Unit
from league.web import cells, downloads, sentences
from league.web.sentences import how_soon

TODAY = dt.date(2027, 1, 24)


@pytest.mark.parametrize("module", [cells, downloads, sentences])
def test_the_examples_are_right(module):
    tried = doctest.testmod(module)

    assert tried.attempted > 0
    assert tried.failed == 0


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (-3, "past"),
        (0, "today"),
        (1, "tomorrow"),
        (2, "in two days"),
        (13, "in 13 days"),
        (14, "in two weeks"),
        (59, "in eight weeks"),
        (61, "in two months"),
    ],
)
def test_how_soon_is_said_as_people_say_it(days, said):
    assert how_soon(TODAY, TODAY + dt.timedelta(days=days)) == said


@pytest.mark.parametrize(
    ("amount", "unit", "shown", "heard"),
    [
        (3200, Unit.LB_OZ, "<span>12</span><span>8</span>", "12 lb 8 oz"),
        (3204, Unit.LB_OZ, "<span>12</span><span>8¼</span>", "12 lb 8 oz 4 dr"),
        (3076, Unit.LB_OZ, "<span>12</span><span>¼</span>", "12 lb 0 oz 4 dr"),
        (3203, Unit.LB_OZ, "<span>12</span><span>8-3</span>", "12 lb 8 oz 3 dr"),
        (5640, Unit.KG, "<span>5.640</span>", ""),
    ],
)
def test_a_weight_is_set_in_two_columns_and_said_in_full(amount, unit, shown, heard):
    cell = cells.weight(amount, unit)

    assert shown in cell
    assert heard in cell


@pytest.mark.parametrize(
    ("sentence", "set_out"),
    [
        ("9-4 at pegs 20 and 23.", '<span class="wt">9-4</span> at pegs 20 and 23.'),
        ("Ana & Jo: 5.640 kg.", 'Ana &amp; Jo: <span class="wt">5.640 kg</span>.'),
        ("2026-27 is a season.", '<span class="wt">2026-27</span> is a season.'),
        ("Nothing here.", "Nothing here."),
        ("<b>12 lb 8 oz</b>", '&lt;b&gt;<span class="wt">12 lb 8 oz</span>&lt;/b&gt;'),
    ],
)
def test_a_weight_in_a_sentence_is_set_as_a_figure_and_nothing_else_is_trusted(sentence, set_out):
    assert cells.say(sentence) == set_out


@pytest.mark.parametrize("cell", ["=1+1", "+44 20", "-5", "@home", "\tx", "\rx"])
def test_a_cell_that_a_spreadsheet_would_run_gets_an_apostrophe(cell):
    assert downloads.safe(cell) == f"'{cell}"
