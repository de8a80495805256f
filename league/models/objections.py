"""Objections: who objected to what and when, and what came of it."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from league.models.decisions import Decision
from league.models.entries import Entry
from league.models.matches import Match
from league.models.results import Result
from league.models.seasons import Team


class Outcome(models.TextChoices):
    """What came of an objection."""

    UPHELD = "upheld", "Upheld"
    DISMISSED = "dismissed", "Not upheld"
    WITHDRAWN = "withdrawn", "Withdrawn"


class ObjectionQuerySet(models.QuerySet["Objection"]):
    """Questions about objections."""

    def of(self, match: Match) -> ObjectionQuerySet:
        """The objections to the results of *match*, oldest first, with what their lines print."""
        return (
            self.filter(match=match)
            .select_related("entry__angler", "team", "result", "decision", "answered_by")
            .order_by("made_at", "pk")
        )

    def still_open(self, match: Match) -> ObjectionQuerySet:
        """Those that nobody has answered."""
        return self.of(match).filter(outcome="")

    def locked(self, pk: int) -> Objection:
        """The objection, held until the transaction ends."""
        return (
            self.select_for_update(of=("self",))
            .select_related("match__club", "entry__angler", "team", "result")
            .get(pk=pk)
        )


class Objection(models.Model):
    """Made against one version of a result by an angler or a team; answered once."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="objections")
    result = models.ForeignKey(
        Result, models.PROTECT, null=True, blank=True, related_name="objections"
    )
    entry = models.ForeignKey(
        Entry, models.CASCADE, null=True, blank=True, related_name="objections"
    )
    team = models.ForeignKey(Team, models.CASCADE, null=True, blank=True, related_name="objections")
    what = models.CharField(max_length=300)
    made_at = models.DateTimeField(help_text="When the match secretary was told.")
    heard_until = models.DateTimeField(null=True, blank=True)
    late = models.BooleanField(default=False, help_text="Came after the time, and is heard.")
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    outcome = models.CharField(max_length=10, choices=Outcome, blank=True)
    answer = models.CharField(max_length=300, blank=True)
    decision = models.ForeignKey(
        Decision, models.PROTECT, null=True, blank=True, related_name="objections"
    )
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    objects = ObjectionQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(what=""),
                name="objection_says_to_what",
                violation_error_message="Say what the objection is to.",
            ),
            models.CheckConstraint(
                condition=Q(entry__isnull=False, team__isnull=True)
                | Q(entry__isnull=True, team__isnull=False),
                name="objection_is_somebodys",
                violation_error_message="Say who objects: one angler, or one team.",
            ),
            models.CheckConstraint(
                condition=Q(outcome="", answered_at__isnull=True)
                | (~Q(outcome="") & ~Q(answer="") & Q(answered_at__isnull=False)),
                name="objection_is_answered_whole",
                violation_error_message="An answer says what came of it and why.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.entry.angler if self.entry else self.team}: {self.what}"

    @property
    def is_open(self) -> bool:
        """Whether nobody has answered it."""
        return not self.outcome
