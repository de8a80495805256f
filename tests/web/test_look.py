"""The base page, the errors, forms and ledgers, and what no template may hold."""

from __future__ import annotations

import re
from pathlib import Path
from types import SimpleNamespace
from xml.etree.ElementTree import Element

import django_tables2 as tables
import html5lib
import pytest
from django import forms
from django.conf import settings
from django.http import Http404
from django.template.loader import render_to_string
from django.test import RequestFactory
from django.views.defaults import page_not_found, server_error

from league.rules.weights import Unit
from league.strip import State, StripPeg, draw_strip

TEMPLATES = sorted((settings.BASE_DIR / "templates").rglob("*.html"))
CLUB = SimpleNamespace(name="Marlbrook & District AC", slug="marlbrook")
HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"


def parsed(page: str) -> Element:
    """The page, which must be HTML without a fault."""
    return html5lib.HTMLParser(strict=True).parse(page)


def fragment(text: str) -> Element:
    """A part of a page, which must be HTML without a fault."""
    return parsed(
        f'<!doctype html><html lang="en-GB"><title>A part</title><main>{text}</main></html>'
    )


def words(element: Element) -> str:
    """Everything it says, single-spaced."""
    return " ".join("".join(element.itertext()).split())


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_holds_style_or_script_of_its_own(path: Path):
    text = path.read_text()

    assert not re.search(r"\sstyle\s*=", text)
    assert not re.search(r"<style\b", text)
    assert not re.search(r"\son[a-z]+\s*=\s*[\"']", text)
    assert not re.search(r"<script(?![^>]*\ssrc=)(?![^>]*type=\"application/(?:ld\+)?json\")", text)


def test_the_head_names_the_club_first_then_its_pages():
    nav = [("Next match", "/next/", False), ("Results", "/results/", True)]

    page = parsed(render_to_string("base.html", {"club": CLUB, "nav": nav}))

    links = [
        (words(link), link.get("aria-current"))
        for link in page.find(f".//{HTML}header").iter(f"{HTML}a")
    ]
    assert links == [
        ("Marlbrook & District AC", None),
        ("Next match", None),
        ("Results", "page"),
    ]
    assert page.get("lang") == "en-GB"
    assert page.find(f".//{HTML}a[@class='skip']").get("href") == "#main"
    assert page.find(f".//{HTML}main").get("id") == "main"


def test_what_was_just_done_is_said_and_what_failed_stands_out():
    messages = [
        SimpleNamespace(level_tag="success", tags="success"),
        SimpleNamespace(level_tag="error", tags="error"),
    ]

    page = parsed(render_to_string("base.html", {"messages": messages}))

    said = page.find(f".//{HTML}div[@role='status']/{HTML}ul")
    assert [item.get("class") for item in said] == [None, "stop"]


def test_the_colours_switch_waits_for_its_script():
    page = parsed(render_to_string("base.html"))

    switch = page.find(f".//{HTML}form[@id='colours']")
    assert switch.get("hidden") is not None
    assert [(words(b), b.get("value")) for b in switch.iter(f"{HTML}button")] == [
        ("Paper", "paper"),
        ("Dusk", "dusk"),
        ("As my phone", ""),
    ]


def test_something_broken_is_said_without_database_or_context():
    answer = server_error(RequestFactory().get("/matches/7/"))

    page = parsed(answer.content.decode())
    assert answer.status_code == 500
    assert words(page.find(f".//{HTML}h1")) == "Something broke at our end"
    assert "Your last entry was not saved. Nothing else is lost." in words(page)


@pytest.mark.django_db
def test_a_wrong_address_is_a_peg_left_out():
    request = RequestFactory().get("/matches/7/")

    answer = page_not_found(request, Http404())

    assert answer.status_code == 404
    assert (
        words(parsed(answer.content.decode()).find(f".//{HTML}h1")) == "This peg has been left out"
    )


def test_a_page_for_somebody_else_says_who_is_signed_in():
    user = SimpleNamespace(is_authenticated=True, get_full_name="Len Cudworthy", get_username="len")

    page = parsed(render_to_string("403.html", {"user": user}))

    assert "You are signed in as Len Cudworthy" in words(page)


class WeighForm(forms.Form):
    """A form with a slip in every kind of place."""

    pounds = forms.IntegerField(
        label="Pounds",
        help_text="Whole pounds.",
        error_messages={"required": "Say how many pounds."},
    )
    note = forms.CharField(label="Note", required=False)
    agreed = forms.BooleanField(label="Read out and agreed", required=False)
    key = forms.CharField(widget=forms.HiddenInput)

    def clean(self) -> None:
        raise forms.ValidationError("Nothing is saved until the weight is agreed.")


def test_a_slip_is_said_over_its_field_and_tied_to_it():
    part = fragment(render_to_string("includes/_form.html", {"form": WeighForm({"key": "x"})}))

    box = part.find(f".//{HTML}input[@name='pounds']")
    slip = part.find(f".//{HTML}p[@id='id_pounds_error']")
    assert (words(slip), slip.get("class")) == ("Say how many pounds.", "err")
    assert box.get("aria-invalid") == "true"
    assert box.get("aria-describedby").split() == ["id_pounds_helptext", "id_pounds_error"]
    assert words(part.find(f".//{HTML}p[@id='id_pounds_helptext']")) == "Whole pounds."
    assert words(part.find(f".//{HTML}label[@for='id_note']")) == "Note (may be left empty)"
    assert "Nothing is saved until the weight is agreed." in words(part)
    assert len(list(part.iter(f"{HTML}input"))) == 4


def test_signing_in_keeps_where_the_person_was_going():
    form = WeighForm()

    page = parsed(render_to_string("registration/login.html", {"form": form, "next": "/desk/"}))

    assert page.find(f".//{HTML}input[@name='next']").get("value") == "/desk/"
    assert words(page.find(f".//{HTML}h1")) == "Sign in"


class SectionTable(tables.Table):
    """A table with a caption and a row header."""

    caption = "Section A"
    place = tables.Column(verbose_name="Place", orderable=False)
    angler = tables.Column(verbose_name="Angler", attrs={"row_header": True})
    points = tables.Column(
        verbose_name="Points", orderable=False, attrs={"cell": {"class": "num total"}}
    )

    class Meta:
        attrs = {"class": "ledger", "id": "sec-a"}
        template_name = "includes/_table.html"


def section_table(**options: str) -> Element:
    rows = [
        {
            "place": 1,
            "angler": "Jo Ormesher",
            "points": "6",
            "whys": [{"id": "p1", "sum": "First of 6 = 6", "words": "Rule 5.", "back": "sec-a"}],
        },
        {"place": 2, "angler": "Tom K.", "points": "5", "whys": []},
    ]
    request = RequestFactory().get("/result/")
    return fragment(SectionTable(rows, **options).as_html(request))


def test_a_ledger_has_a_caption_column_heads_and_row_heads():
    table = section_table()

    assert words(table.find(f".//{HTML}caption")) == "Section A"
    assert [(words(head), head.get("scope")) for head in table.iter(f"{HTML}th")] == [
        ("Place", "col"),
        ("Angler", "col"),
        ("Points", "col"),
        ("Jo Ormesher", "row"),
        ("Tom K.", "row"),
    ]
    assert table.find(f".//{HTML}td[@class='num total']").text == "6"


def test_only_a_column_that_can_be_sorted_is_a_link_and_says_how_it_is_sorted():
    table = section_table(order_by="-angler")

    links = [words(link) for link in table.find(f".//{HTML}thead").iter(f"{HTML}a")]
    assert links == ["Angler"]
    assert [head.get("aria-sort") for head in table.find(f".//{HTML}thead").iter(f"{HTML}th")] == [
        None,
        "descending",
        None,
    ]


def test_a_reason_is_folded_away_under_its_row_at_an_address_of_its_own():
    table = section_table()

    why = table.find(f".//{HTML}tr[@id='p1']")
    assert words(why) == "First of 6 = 6 Rule 5. Fold away"
    assert why.find(f"{HTML}td").get("colspan") == "3"
    assert why.find(f".//{HTML}a").get("href") == "#sec-a"


def bank(count: int) -> Element:
    pegs = [
        StripPeg(str(n), "AB"[n > count / 2], State.WEIGHED, 256 * n, best=n == count)
        for n in range(1, count + 1)
    ]
    strip = draw_strip([*pegs, StripPeg("99", "B", State.BLANK)], unit=Unit.LB_OZ, key="bank")
    return fragment(render_to_string("includes/_bank.html", {"strip": strip}))


def test_the_bank_strip_is_a_picture_with_a_title_and_a_description():
    part = bank(8)

    drawing = part.find(f".//{SVG}svg[@role='img']")
    described = {element.get("id"): words(element) for element in drawing if element.get("id")}
    assert drawing.get("aria-labelledby").split() == ["bank-t", "bank-d"]
    assert described["bank-t"] == "The bank"
    assert described["bank-d"].startswith("9 pegs in bank order, in 2 sections. Heaviest: peg 8,")
    assert drawing.get("width") == "100%"
    assert len(drawing.findall(f".//{SVG}rect[@class='b-bar win']")) == 1
    assert len(drawing.findall(f".//{SVG}path[@class='b-blank']")) == 1


def test_the_legend_explains_the_signs_there_are_and_no_more():
    legend = bank(8).find(f".//{HTML}ul[@class='legend']")

    assert [words(item) for item in legend] == ["weight at a peg", "best of the day", "blank"]


def test_many_pegs_come_once_long_and_once_folded_with_ids_of_their_own():
    part = bank(40)

    drawings = part.findall(f".//{SVG}svg[@role='img']")
    ids = [element.get("id") for element in part.iter() if element.get("id")]
    assert [drawing.get("class").split()[-1] for drawing in drawings] == ["long", "fold", "fold"]
    assert len(ids) == len(set(ids))
