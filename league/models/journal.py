"""Who did what and when: one line an act, added and never changed."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import F, Value
from django.db.models.functions import Replace

from league.models.matches import Match
from league.models.people import Club


class ActQuerySet(models.QuerySet["Act"]):
    """Questions about the journal."""

    def on(self, match: Match) -> ActQuerySet:
        """What was done about *match*, newest first."""
        return self.filter(match=match).select_related("by").order_by("-at", "-pk")

    def of(self, club: Club) -> ActQuerySet:
        """What was done in *club*, newest first."""
        return self.filter(club=club).select_related("by", "match").order_by("-at", "-pk")

    def without(self, name: str, instead: str) -> int:
        """
        Put *instead* where the lines say *name*; returns how many lines did.

        The one change there is, for a person who has asked to be erased: the database refuses
        every other (the migration that makes its triggers says which).
        """
        lines = self.order_by().filter(what__contains=name)
        return lines.update(what=Replace(F("what"), Value(name), Value(instead)))


class Act(models.Model):
    """One act."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="acts")
    match = models.ForeignKey(Match, models.CASCADE, null=True, blank=True, related_name="acts")
    what = models.CharField(max_length=300)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = ActQuerySet.as_manager()

    def __str__(self) -> str:
        return self.what
