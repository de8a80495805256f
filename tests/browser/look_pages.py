"""Addresses for the browser alone: one page with strips of every size, one with a form."""

from __future__ import annotations

import random
from types import SimpleNamespace

from django import forms
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import path

from league.rules.weights import Unit
from league.strip import State, Strip, StripPeg, draw_strip

NAV = [
    ("Next match", "/next/", False),
    ("Results", "/look/", True),
    ("League", "/league/", False),
    ("Anglers", "/anglers/", False),
]
CLUB = SimpleNamespace(name="Marlbrook & District AC", slug="marlbrook")
PERSON = SimpleNamespace(is_authenticated=True, get_full_name="Len Cudworthy")
WORDS = """{% extends "base.html" %}
{% block title %}The look{% endblock %}
{% block main %}<div class="wrap"><div class="title"><h1>The look</h1></div>
{% for strip in strips %}
  <section class="band wide" aria-labelledby="{{ strip.key }}-h">
    <header><h2 id="{{ strip.key }}-h">{{ strip.title }}</h2></header>
    {% include "includes/_bank.html" %}
  </section>
{% endfor %}
{% if form %}
  <form class="slip" method="post">
    {% include "includes/_form.html" %}
    <p><button class="next">Save the times</button></p>
  </form>
{% endif %}
</div>{% endblock %}"""


class TimesForm(forms.Form):
    """A form with a slip in it."""

    all_in = forms.TimeField(label="All in", help_text="On the day, as 10:00.")
    wet = forms.BooleanField(label="Bring waders", required=False)
    ties = forms.ChoiceField(
        label="Equal weights",
        choices=[("share", "Share the places they take"), ("better", "Take the better place")],
        widget=forms.RadioSelect,
    )


def strip(count: int, sections: int, unit: Unit, key: str) -> Strip:
    """A made-up bank: gaps, blanks, and two winners side by side where sections meet."""
    dice = random.Random(count)
    size = count // sections
    largest = 40 * 256 if unit is Unit.LB_OZ else 18000
    pegs = []
    for n in range(count):
        section = "ABCDEFGH"[n // size] if sections > 1 else ""
        wins = sections > 1 and (n % size == size - 1 if (n // size) % 2 == 0 else n % size == 0)
        blank = not wins and dice.random() < 0.1
        weight = largest if wins else 0 if blank else dice.randint(1, largest - 1)
        pegs.append(
            StripPeg(
                str(n + 1 + 2 * (n > count / 3)),
                section,
                State.BLANK if blank else State.WEIGHED,
                weight,
                name="Winston Arberry",
                gap_before=2 * (n == count // 3 + 1),
                wins_section=wins,
                best=n == size - 1 and sections > 1,
            )
        )
    return draw_strip(pegs, unit=unit, key=key, title=f"{count} pegs")


def look(request: HttpRequest) -> HttpResponse:
    """Strips of every size."""
    strips = [
        strip(8, 2, Unit.KG, "eight"),
        strip(12, 2, Unit.LB_OZ, "twelve"),
        strip(24, 4, Unit.LB_OZ, "some"),
        strip(46, 1, Unit.LB_OZ, "open"),
        strip(96, 8, Unit.LB_OZ, "many"),
    ]
    context = {"club": CLUB, "nav": NAV, "strips": strips}
    return HttpResponse(engines["django"].from_string(WORDS).render(context, request))


def form(request: HttpRequest) -> HttpResponse:
    """A form with slips, as an officer sees it."""
    context = {"club": CLUB, "nav": NAV, "form": TimesForm({"all_in": "ten"})}
    context |= {"user": PERSON, "office_names": {"secretary"}}
    return HttpResponse(engines["django"].from_string(WORDS).render(context, request))


urlpatterns = [
    path("look/", look),
    path("form/", form),
    path("desk/<slug:slug>/", form, name="desk"),
    path("sign-in/", form, name="sign-in"),
    path("sign-out/", form, name="sign-out"),
    path("c/<slug:slug>/", look, name="club"),
]
