"""A weigh-in: one figure off the scales. Never edited or deleted, only set aside."""

from __future__ import annotations

from uuid import UUID

from django.conf import settings
from django.db import models
from django.db.models import Q

from league.models.entries import Entry
from league.models.fields import NetsField
from league.models.matches import Match
from league.models.passes import Phone
from league.rules.lines import Status


class WeighInQuerySet(models.QuerySet["WeighIn"]):
    """Questions about weigh-ins."""

    def standing(self) -> WeighInQuerySet:
        """Those that have not been set aside."""
        return self.filter(set_aside__isnull=True)

    def for_entry(self, entry: Entry) -> WeighInQuerySet:
        """What was read at one peg, in the order it came."""
        return self.filter(entry=entry).select_related("set_aside", "entry__angler", "weighed_by")

    def beside(self, entry: Entry) -> WeighInQuerySet:
        """Every figure of one peg with whether it stands, and nothing to say it in words."""
        return self.filter(entry=entry)

    def by_key(self, key: UUID) -> WeighIn | None:
        """The weigh-in that a phone sent under *key*."""
        return self.filter(key=key).select_related("entry__angler", "entry__match").first()

    def sent_by(self, phone: Phone) -> WeighInQuerySet:
        """Everything *phone* has sent, whether it stands or not."""
        return self.filter(phone=phone)

    def counted_twice(self, match: Match) -> set[int]:
        """
        Phones of *match* that used one of their numbers for two entries.

        One put back from an old copy does; nothing is lost by it, but somebody should look.
        """
        found = self.filter(entry__match=match, phone__isnull=False).values("phone", "seq")
        twice = found.annotate(entries=models.Count("pk")).filter(entries__gt=1)
        return {phone for phone in twice.values_list("phone", flat=True) if phone is not None}

    def numbers_of(self, match: Match) -> dict[int, set[int]]:
        """Which of its own numbers has come in from each phone of *match*."""
        found: dict[int, set[int]] = {}
        sent = self.filter(entry__match=match, phone__isnull=False)
        for phone, seq in sent.values_list("phone", "seq"):
            found.setdefault(phone or 0, set()).add(seq or 0)
        return found

    def of(self, match: Match) -> WeighInQuerySet:
        """Every weigh-in of *match*, in the order they came."""
        return self.filter(entry__match=match).order_by("received_at", "pk")


class WeighInManager(models.Manager["WeighIn"]):
    """Figures with whether they stand: nothing ever reads the one without the other."""

    def get_queryset(self) -> WeighInQuerySet:
        """Every figure, and what set it aside, in one question."""
        return WeighInQuerySet(self.model, using=self._db).select_related("set_aside")


class WeighIn(models.Model):
    """What was read at one peg: a net or several, or a status in place of a weight."""

    # The phone's own key: sent twice, stored once.
    key = models.UUIDField(unique=True, editable=False)
    entry = models.ForeignKey(Entry, models.CASCADE, related_name="weigh_ins")
    status = models.CharField(
        max_length=12, choices=[(status.value, status.value) for status in Status]
    )
    nets = NetsField(default=list, blank=True)
    note = models.CharField(max_length=200, blank=True)
    weighed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    device = models.CharField(max_length=40, blank=True)
    read_at = models.DateTimeField(null=True, blank=True, help_text="By the phone's clock.")
    received_at = models.DateTimeField()
    # What a phone says beside the figure: its own count, which of its entries this one corrects,
    # and how far ahead its clock was, in seconds.
    phone = models.ForeignKey(
        Phone, models.RESTRICT, null=True, blank=True, related_name="weigh_ins"
    )
    seq = models.PositiveBigIntegerField(null=True, blank=True)
    corrects = models.UUIDField(null=True, blank=True)
    clock_skew = models.BigIntegerField(default=0)

    objects = WeighInManager.from_queryset(WeighInQuerySet)()

    class Meta:
        ordering = ["received_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(status__in=[status.value for status in Status]),
                name="weigh_in_has_a_status",
                violation_error_message="Say what became of the angler: weighed, blank, absent ...",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.entry}: {self.figure}"

    @property
    def by(self) -> str:
        """Whose it is: the walk whose phone sent it, or who was signed in."""
        return self.device or str(self.weighed_by or "somebody")

    @property
    def figure(self) -> tuple[str, tuple[int, ...]]:
        """What was read; two weigh-ins with the same figure agree."""
        return self.status, tuple(self.nets)

    @property
    def stands(self) -> bool:
        """Whether it has not been set aside."""
        return not hasattr(self, "set_aside")


class SetAsideQuerySet(models.QuerySet["SetAside"]):
    """Questions about what was set aside."""

    def of(self, match: Match) -> SetAsideQuerySet:
        """What was set aside in *match*."""
        return self.filter(weigh_in__entry__match=match)


class SetAside(models.Model):
    """A weigh-in that does not stand, by whom and why. The figure itself stays readable."""

    weigh_in = models.OneToOneField(WeighIn, models.CASCADE, related_name="set_aside")
    why = models.CharField(max_length=200)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = SetAsideQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(why=""),
                name="set_aside_says_why",
                violation_error_message="Say why the figure does not stand.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.weigh_in}, set aside: {self.why}"
