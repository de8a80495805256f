"""Who did what and when: one line an act, added and never changed."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from league.models.matches import Match
from league.models.people import Club

# What stands between a match and the reason in the line that is written when it is called off.
CANCELLED = " cancelled: "


class ActQuerySet(models.QuerySet["Act"]):
    """Questions about the journal."""

    def on(self, match: Match) -> ActQuerySet:
        """What was done about *match*, newest first."""
        return self.filter(match=match).select_related("by").order_by("-at", "-pk")

    def why_cancelled(self, match: Match) -> str:
        """Why *match* was cancelled, as it was written down; empty where it was not."""
        act = self.on(match).filter(what__contains=CANCELLED).first()
        return act.what.partition(CANCELLED)[2].strip() if act else ""

    def of(self, club: Club) -> ActQuerySet:
        """What was done in *club*, newest first."""
        return self.filter(club=club).select_related("by", "match").order_by("-at", "-pk")

    def saying(self, club: Club, words: str) -> ActQuerySet:
        """Lines of *club* with *words* in them."""
        return self.filter(club=club, what__contains=words)

    def reword(self, act: Act, what: str) -> None:
        """
        Put other words in a line: for a name that is taken out, and for nothing else.

        Who and when cannot change, nor can a line be about another match: the database refuses
        that.
        """
        self.filter(pk=act.pk).update(what=what)


class Act(models.Model):
    """One act."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="acts")
    # A match that was planned by mistake may go; what was written of it stays.
    match = models.ForeignKey(Match, models.SET_NULL, null=True, blank=True, related_name="acts")
    what = models.CharField(max_length=300)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = ActQuerySet.as_manager()

    def __str__(self) -> str:
        return self.what
