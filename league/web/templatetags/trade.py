"""The few filters that templates need."""

from __future__ import annotations

from django import template
from django.utils.safestring import SafeString

from league.rules import pools_pence
from league.rules.stages import in_a_sentence
from league.web import cells

register = template.Library()


@register.filter
def say(sentence: object) -> SafeString:
    """A sentence with its weights set as figures, never broken over a line."""
    return cells.say(str(sentence or ""))


@register.filter
def midway(title: object) -> str:
    """A match's title inside a sentence: round 6."""
    return in_a_sentence(str(title))


@register.filter
def pounds(pence: object) -> str:
    """A sum of pence as it is written: £12.50."""
    return pools_pence.pounds(int(str(pence)))


@register.filter
def shortly(pence: object) -> str:
    """A sum of pence as it is said: £12, 50p."""
    return pools_pence.shortly(int(str(pence)))
