"""The money of a match: what was announced, who paid, what went out, what lay in the tin."""

from __future__ import annotations

from collections.abc import Iterable

from django.conf import settings
from django.db import models
from django.db.models import Q, Sum

from league.models.entries import Entry
from league.models.matches import Match
from league.models.results import Result
from league.models.seasons import Season


class PoolsQuerySet(models.QuerySet["Pools"]):
    """Questions about announced pools."""

    def of_match(self, match: Match) -> Pools | None:
        """What is announced for *match*: its own, else its season's."""
        own = self.filter(match=match).first()
        if own is None and match.season_id:
            return self.of_season(match.season_id)
        return own

    def of_season(self, season: Season | int) -> Pools | None:
        """What is announced for every round of *season*."""
        return self.filter(season=season).first()


class Pools(models.Model):
    """What a match asks and how it is paid out; a season's holds for all its rounds."""

    season = models.OneToOneField(
        Season, models.CASCADE, null=True, blank=True, related_name="pools"
    )
    match = models.OneToOneField(Match, models.CASCADE, null=True, blank=True, related_name="pools")
    plan = models.JSONField(default=dict)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = PoolsQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "pools"
        constraints = [
            models.CheckConstraint(
                condition=Q(season__isnull=True, match__isnull=False)
                | Q(season__isnull=False, match__isnull=True),
                name="pools_of_a_season_or_a_match",
                violation_error_message="Pools belong to a season or to a match.",
            ),
        ]

    def __str__(self) -> str:
        return f"Pools, {self.match or self.season}"


class PaymentKind(models.TextChoices):
    """Whether money came or is to come."""

    PAID = "paid", "Paid"
    OWED = "owed", "Owed"


class PaymentQuerySet(models.QuerySet["Payment"]):
    """Questions about payments."""

    def in_force(self, match: Match) -> PaymentQuerySet:
        """What was written down for *match* and not set aside, oldest first."""
        return (
            self.filter(match=match, set_aside__isnull=True)
            .select_related("entry__angler", "by")
            .order_by("pk")
        )

    def with_match(self) -> PaymentQuerySet:
        """With the match of each."""
        return self.select_related("match", "entry__angler", "by")

    def taken(self) -> PaymentQuerySet:
        """Those that brought money."""
        return self.filter(kind=PaymentKind.PAID)

    def about(self, entry: Entry, what: str) -> Payment | None:
        """What stands for one angler and one thing to pay for."""
        return self.filter(entry=entry, what=what, set_aside__isnull=True).order_by("pk").last()

    def all_of(self, match: Match) -> PaymentQuerySet:
        """Every line for *match*, those set aside included, oldest first."""
        return (
            self.filter(match=match)
            .select_related("entry__angler", "by", "set_aside__by")
            .order_by("pk")
        )

    def of_matches(self, matches: Iterable[Match]) -> PaymentQuerySet:
        """What came in for several matches and was not set aside, oldest first."""
        return (
            self.filter(match__in=list(matches), set_aside__isnull=True)
            .select_related("entry__angler", "by")
            .order_by("at", "pk")
        )


class Payment(models.Model):
    """One angler's money for one thing, taken or owed. Added, never changed."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="payments")
    entry = models.ForeignKey(Entry, models.CASCADE, related_name="payments")
    what = models.CharField(max_length=60, help_text="The stake, or an optional pool by name.")
    kind = models.CharField(max_length=4, choices=PaymentKind, default=PaymentKind.PAID)
    pence = models.PositiveIntegerField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = PaymentQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(pence__gt=0),
                name="a_payment_is_something",
                violation_error_message="There is nothing to pay here.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.entry.angler}, {self.what}, {self.get_kind_display().lower()}"


class PaymentSetAside(models.Model):
    """A payment that does not stand: pressed for the wrong angler, or given back."""

    payment = models.OneToOneField(Payment, models.CASCADE, related_name="set_aside")
    why = models.CharField(max_length=200)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(why=""),
                name="a_payment_set_aside_says_why",
                violation_error_message="Say why: it stands in the account.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.payment}: {self.why}"


class PayoutSheetQuerySet(models.QuerySet["PayoutSheet"]):
    """Questions about payout sheets."""

    def of(self, match: Match) -> PayoutSheetQuerySet:
        """The payout sheets of *match*, newest first."""
        return self.filter(match=match).select_related("result", "by").order_by("-number")

    def of_matches(self, matches: Iterable[Match]) -> dict[int, PayoutSheet]:
        """The sheet in force of each of several matches, by the match's key."""
        found = self.filter(match__in=list(matches)).select_related("result")
        return {sheet.match_id: sheet for sheet in found.order_by("match", "number")}


class PayoutSheet(models.Model):
    """The payouts as fixed from one version of the result; a correction makes another sheet."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="payout_sheets")
    number = models.PositiveSmallIntegerField()
    result = models.ForeignKey(Result, models.CASCADE, related_name="payout_sheets")
    document = models.JSONField(editable=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = PayoutSheetQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["match", "number"],
                name="one_payout_sheet_a_number",
                violation_error_message="The payouts were fixed meanwhile; look again.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.match}, payouts {self.number}"


class HandedQuerySet(models.QuerySet["Handed"]):
    """Questions about money handed over."""

    def of(self, match: Match) -> HandedQuerySet:
        """What was handed over for *match*, oldest first."""
        return self.filter(match=match).select_related("by").order_by("pk")

    def by_key(self, match: Match) -> dict[str, int]:
        """What each payee of *match* has had in all, in pence."""
        found = self.filter(match=match).order_by().values_list("key").annotate(Sum("pence"))
        return dict(found)

    def of_matches(self, matches: Iterable[Match]) -> HandedQuerySet:
        """The same for several matches, oldest first."""
        return self.filter(match__in=list(matches)).select_related("by").order_by("at", "pk")


class Handed(models.Model):
    """Money out of the tin into a hand; a minus where it came back. Added, never changed."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="handed")
    key = models.CharField(max_length=80, help_text="Whose: an angler's key, or a fee's.")
    name = models.CharField(max_length=80)
    pence = models.IntegerField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = HandedQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "handed"
        constraints = [
            models.CheckConstraint(
                condition=~Q(pence=0),
                name="handed_over_is_something",
                violation_error_message="There is nothing to hand over.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.match}"


class TinCountQuerySet(models.QuerySet["TinCount"]):
    """Questions about counts of the tin."""

    def of(self, match: Match) -> TinCountQuerySet:
        """The counts for *match*, newest first."""
        return self.filter(match=match).select_related("by").order_by("-pk")

    def of_matches(self, matches: Iterable[Match]) -> dict[int, TinCount]:
        """The last count of each of several matches, by the match's key."""
        found = self.filter(match__in=list(matches)).select_related("by").order_by("pk")
        return {count.match_id: count for count in found}


class TinCount(models.Model):
    """The tin as counted, beside what the lines add up to; with it the match's money is closed."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="tin_counts")
    counted = models.PositiveIntegerField()
    expected = models.IntegerField()
    why = models.CharField(max_length=300, blank=True, help_text="Why the two differ.")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = TinCountQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(counted=models.F("expected")) | ~Q(why=""),
                name="a_tin_that_differs_says_why",
                violation_error_message="The tin and the lines differ: say why.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.match}: the tin"

    @property
    def difference(self) -> int:
        """What is in the tin too much; less than nothing where it is short."""
        return self.counted - self.expected
