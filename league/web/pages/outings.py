"""The matches an angler fished, as published."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse

from league.columns import NOTHING, has_weight
from league.files.result import line_of
from league.models import Angler, Match, Result
from league.rules.figures import ordinal_word
from league.rules.lines import AnglerLine
from league.rules.weights import Unit
from league.web.pages.result_sections import why_address


@dataclass(frozen=True, slots=True)
class Outing:
    """One match an angler fished, as published."""

    result: Result
    line: AnglerLine
    dropped: bool = False

    @property
    def match(self) -> Match:
        """The match."""
        return self.result.match

    @property
    def unit(self) -> Unit:
        """What the match was weighed in."""
        return Unit(self.result.document["match"]["unit"])

    @property
    def weighed(self) -> bool:
        """Whether there is a weight."""
        return has_weight(self.line.status, self.line.weight)

    @property
    def won(self) -> bool:
        """Whether the section was won."""
        return self.line.place == 1 and self.line.weight > 0

    @property
    def address(self) -> str:
        """The reason behind the points, on the result's own page."""
        return f"{reverse('result', args=[self.match.pk])}#{why_address(self.line)}-points"

    @property
    def in_section(self) -> str:
        """The place in the section in words."""
        if not self.weighed or self.line.place is None:
            return NOTHING
        return ordinal_word(self.line.place)


def outings_of(angler: Angler) -> list[Outing]:
    """Every published match of *angler*, newest first."""
    key = str(angler.pk)
    found = [(result, line_of(result.document, key)) for result in Result.objects.fished_by(angler)]
    return [Outing(result, line) for result, line in found if line is not None]
