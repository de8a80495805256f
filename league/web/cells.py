"""Figures as a page sets them: a weight in two columns, a place with its float tip, a plate."""

from __future__ import annotations

import re
from itertools import zip_longest

from django.template.loader import get_template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

from league.columns import STATUS_WORDS, has_weight
from league.rules.lines import Status
from league.rules.weights import DRAMS_IN_OUNCE, DRAMS_IN_POUND, Unit, spoken, written

# A weight in a sentence: 61-4, 12-8-4, 61 lb 4 oz, 5.640 kg.
FIGURE = re.compile(r"(\b\d+-\d+(?:-\d+)?\b|\b\d+ lb \d+ oz(?: \d+ dr)?|\b\d+\.\d{3}(?: kg)?\b)")
QUARTERS = {0: "", 4: "¼", 8: "½", 12: "¾"}

POUNDS_HEAD = mark_safe(
    '<span class="w" aria-hidden="true"><span>lb</span><span>oz</span></span>'
    '<span class="vh">Weight</span>'
)
KILOS_HEAD = mark_safe('kg<span class="vh"> Weight</span>')


def weight_head(unit: Unit) -> SafeString:
    """The head of a column of weights."""
    return KILOS_HEAD if unit is Unit.KG else POUNDS_HEAD


def weight(amount: int, unit: Unit) -> SafeString:
    """A weight as in a ledger, pounds and ounces apart; said in full to who cannot see it."""
    if unit is Unit.KG:
        return boxed(written(amount, unit))
    pounds, rest = divmod(amount, DRAMS_IN_POUND)
    ounces, drams = divmod(rest, DRAMS_IN_OUNCE)
    part = QUARTERS.get(drams, f"-{drams}")
    return format_html(
        '<span class="vh">{}</span>'
        '<span class="w" aria-hidden="true"><span>{}</span><span>{}{}</span></span>',
        spoken(amount, unit),
        pounds,
        ounces if ounces or not part else "",
        part,
    )


def say(sentence: str) -> SafeString:
    """
    A sentence whose weights are set as figures and never broken over a line.

    >>> say("Ahead, 61-4 against 58-0.")
    'Ahead, <span class="wt">61-4</span> against <span class="wt">58-0</span>.'
    """
    pieces = FIGURE.split(sentence)
    return format_html_join(
        "",
        "{}{}",
        (
            (text, format_html('<span class="wt">{}</span>', figure) if figure else "")
            for text, figure in zip_longest(pieces[::2], pieces[1::2])
        ),
    )


def word(text: str) -> SafeString:
    """What stands where a weight would: blank, absent."""
    return format_html('<span class="word">{}</span>', text)


def figure(status: Status, amount: int, unit: Unit) -> SafeString:
    """The weight, or the word that stands in its place."""
    return weight(amount, unit) if has_weight(status, amount) else word(STATUS_WORDS[status])


def figure_said(status: Status, amount: int, unit: Unit) -> str:
    """The same in a line of words."""
    return spoken(amount, unit) if has_weight(status, amount) else STATUS_WORDS[status]


def with_reason(inner: str, address: str) -> SafeString:
    """A figure that unfolds to the reason behind it."""
    return format_html('<a class="fig" href="#{}">{}</a>', address, inner)


def boxed(text: str) -> SafeString:
    """A figure in the span that carries the dotted line."""
    return format_html("<span>{}</span>", text)


def plate(letter: str) -> SafeString:
    """A section's letter in its plate."""
    return format_html('<span class="plate">{}</span>', letter)


def under_letter(letter: str, figure: str) -> SafeString:
    """A figure with its section's letter over it, shown where a phone has no room for heads."""
    return format_html('<span class="rl" aria-hidden="true">{}</span>{}', letter, figure)


def with_tip(text: str) -> SafeString:
    """A place with the float tip of the leader."""
    tip = get_template("includes/_tip.html").render().strip()
    return format_html("{}{}", text, mark_safe(tip))  # noqa: S308 -- our own template


def hidden(text: str) -> SafeString:
    """Words for who cannot see the page."""
    return format_html('<span class="vh">{}</span>', text)


def struck(text: str) -> SafeString:
    """A figure that does not count: crossed with one stroke, so that a 1 stays a 1."""
    return format_html(
        '<span class="dropped"><s>{}</s></span><span class="vh"> dropped</span>', text
    )


def peg(letter: str, number: str) -> SafeString:
    """A peg with its section's plate."""
    lettered = plate(letter) if letter else ""
    return format_html('<span class="peg">{} {}</span>', lettered, number)


def parts(amount: int, unit: Unit) -> list[tuple[str, str]]:
    """A weight as figures and their units, for where it is set large."""
    said = spoken(amount, unit).split(" ")
    return list(zip(said[::2], said[1::2], strict=True))
