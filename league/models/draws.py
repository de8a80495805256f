"""The draw as published: its sealed secret, its sheet and every event that was begun."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from league.models.matches import Match


class DrawRecordQuerySet(models.QuerySet["DrawRecord"]):
    """Questions about draws."""

    def of(self, match: Match) -> DrawRecord | None:
        """The draw of *match*, if its secret is sealed."""
        return self.filter(match=match).first()

    def with_events(self, match: Match) -> DrawRecord | None:
        """The same with every event that was begun."""
        return self.filter(match=match).prefetch_related("events__begun_by").first()


class DrawRecord(models.Model):
    """What was fixed before any number was called. Nothing here may be changed afterwards."""

    match = models.OneToOneField(Match, models.CASCADE, related_name="draw_record")
    code = models.CharField(max_length=40, help_text="The match's name in the draw's texts.")
    commitment = models.CharField(max_length=64, blank=True)
    # Encrypted with a key of its own; nobody reads it until an event reveals a link of the chain.
    sealed_secret = models.BinaryField(editable=False, null=True)
    sheet = models.TextField(blank=True)
    peg_names = models.JSONField(default=dict, blank=True)
    names = models.JSONField(default=dict, blank=True)
    frozen_at = models.DateTimeField(null=True, blank=True)
    # Pegs given by hand after the draw: what, after which event, by whom, when and why.
    given = models.JSONField(default=list, blank=True)

    objects = DrawRecordQuerySet.as_manager()

    def __str__(self) -> str:
        return f"Draw of {self.match}"


class DrawEventQuerySet(models.QuerySet["DrawEvent"]):
    """Questions about the events of a draw."""

    def of(self, record: DrawRecord) -> DrawEventQuerySet:
        """Every event that was begun, in order."""
        return self.filter(record=record).select_related("begun_by").order_by("number")

    def before(self, event: DrawEvent) -> DrawEvent | None:
        """The last finished event before *event* that gave pegs."""
        return self.filter(number__lt=event.number).exclude(pegs={}).last()


class DrawEvent(models.Model):
    """One event of a draw: begun, and finished or abandoned. A begun event stays listed."""

    record = models.ForeignKey(DrawRecord, models.CASCADE, related_name="events")
    number = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=10)
    # What the event is about, fixed before any number is called: late=..., redraw=..., unsafe=...
    extra = models.CharField(max_length=80, blank=True)
    calls = models.JSONField(default=dict, blank=True)
    text = models.TextField(blank=True)
    seed = models.CharField(max_length=64, blank=True)
    attempt = models.PositiveSmallIntegerField(null=True, blank=True)
    pegs = models.JSONField(default=dict, blank=True)
    bag = models.JSONField(default=dict, blank=True)
    why = models.CharField(max_length=200, blank=True)
    begun_at = models.DateTimeField()
    begun_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    finished_at = models.DateTimeField(null=True, blank=True)
    # How many cards are face up on the bank; None where nothing is turned, and all are to be seen.
    turned = models.PositiveSmallIntegerField(null=True, blank=True)

    objects = DrawEventQuerySet.as_manager()

    class Meta:
        ordering = ["record", "number"]
        constraints = [
            models.UniqueConstraint(
                fields=["record", "number"],
                name="one_draw_event_a_number",
                violation_error_message="This draw was begun by somebody else meanwhile.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.record}, event {self.number}"

    @property
    def is_open(self) -> bool:
        """Begun, and neither finished nor abandoned."""
        return self.finished_at is None

    @property
    def is_abandoned(self) -> bool:
        """Given up before its secret was revealed."""
        return self.finished_at is not None and not self.pegs
