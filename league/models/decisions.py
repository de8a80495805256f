"""An official decision, by whom and why: the only points or weights ever typed in."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from league.models.entries import Entry
from league.models.fields import PointsField
from league.models.matches import Match
from league.models.seasons import Team


class DecisionKind(models.TextChoices):
    """What may be decided."""

    DISQUALIFIED = "disqualified", "Disqualified"
    POINTS = "points", "Penalty in points"
    WEIGHT = "weight", "Penalty in weight"
    LATE_WEIGHT = "late weight", "Late weight allowed"
    VOID_PEG = "void peg", "Peg void"


class DecisionQuerySet(models.QuerySet["Decision"]):
    """Questions about decisions."""

    def in_force(self, match: Match) -> DecisionQuerySet:
        """Decisions on *match* that have not been lifted, oldest first."""
        return (
            self.filter(match=match, lifted_by__isnull=True, lifts__isnull=True)
            .select_related("entry__angler", "team", "by")
            .order_by("at", "pk")
        )

    def on(self, match: Match) -> DecisionQuerySet:
        """Every decision on *match*, lifted ones and their lifting included."""
        return self.filter(match=match).select_related("by").order_by("at", "pk")

    def like(self, kind: str, entry: Entry | None) -> DecisionQuerySet:
        """Those of one kind about one angler."""
        return self.filter(kind=kind, entry=entry)

    def lifted(self, decision: Decision) -> DecisionQuerySet:
        """The line that lifts *decision*, if there is one."""
        return self.filter(lifts=decision)


class Decision(models.Model):
    """Made once and never edited; one that proves wrong is lifted by another."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="decisions")
    kind = models.CharField(max_length=12, choices=DecisionKind)
    entry = models.ForeignKey(
        Entry, models.CASCADE, null=True, blank=True, related_name="decisions"
    )
    team = models.ForeignKey(Team, models.CASCADE, null=True, blank=True, related_name="decisions")
    points = PointsField(null=True, blank=True)
    weight = models.PositiveIntegerField(null=True, blank=True, help_text="Drams or grams.")
    why = models.CharField(max_length=300)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()
    lifts = models.OneToOneField(
        "self", models.CASCADE, null=True, blank=True, related_name="lifted_by"
    )

    objects = DecisionQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(why=""),
                name="decision_says_why",
                violation_error_message="Say why: it is printed with the result.",
            ),
            models.CheckConstraint(
                condition=Q(entry__isnull=False) | Q(team__isnull=False),
                name="decision_names_somebody",
                violation_error_message="Say whom the decision is about.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.entry or self.team}"
