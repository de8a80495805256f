"""Passes: who may send weights, or name a team's line-up, without an account, and until when."""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from league.models.matches import Match
from league.models.seasons import Team


class ScalesPassQuerySet(models.QuerySet["ScalesPass"]):
    """Questions about passes."""

    def of(self, match: Match) -> ScalesPassQuerySet:
        """The passes of *match*, oldest first."""
        return self.filter(match=match).order_by("made_at", "pk")

    def opened_by(self, match_id: int, secret_hash: str) -> ScalesPass | None:
        """The pass of that match which the secret opens, in force or not."""
        found = self.filter(match=match_id, secret_hash=secret_hash)
        return found.select_related("match__club").first()

    def over(self, at: datetime) -> ScalesPassQuerySet:
        """Those that had run out at that time."""
        return self.filter(expires_at__lte=at)

    def locked(self, pk: int) -> ScalesPass:
        """The pass, held until the transaction ends."""
        return self.select_for_update(of=("self",)).select_related("match__club").get(pk=pk)


class ScalesPass(models.Model):
    """
    A link or QR that lets a helper's phone weigh one walk of one match.

    Only a digest of its secret is kept: a copy of the database opens nothing.
    """

    match = models.ForeignKey(Match, models.CASCADE, related_name="scales_passes")
    name = models.CharField(max_length=40, help_text="Whose walk: Len and Ivy.")
    walk = models.JSONField(default=dict, blank=True)
    secret_hash = models.CharField(max_length=64, unique=True, editable=False)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    objects = ScalesPassQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "scales passes"
        constraints = [
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")),
                name="a_pass_ends_after_it_begins",
                violation_error_message="The pass would end before it begins.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def in_force(self, at: datetime) -> bool:
        """Whether it still lets anybody in."""
        return self.revoked_at is None and at < self.expires_at


class PhoneQuerySet(models.QuerySet["Phone"]):
    """Questions about the phones at the scales."""

    def of(self, match: Match) -> PhoneQuerySet:
        """The phones that have weighed or may weigh *match*, in the order they came."""
        return (
            self.filter(match=match).select_related("scales_pass", "user").order_by("enrolled_at")
        )

    def by_token(self, match_id: int, token_hash: str) -> Phone | None:
        """The phone of that match which carries the token, in force or not."""
        found = self.filter(match=match_id, token_hash=token_hash)
        return found.select_related("scales_pass").first()

    def over(self, at: datetime) -> PhoneQuerySet:
        """Those that had run out at that time."""
        return self.filter(expires_at__lte=at)

    def let_in_by(self, scales_pass: ScalesPass) -> PhoneQuerySet:
        """The phones that came in by *scales_pass*."""
        return self.filter(scales_pass=scales_pass)

    def still_holding(self, match: Match) -> PhoneQuerySet:
        """Phones that said, when they were last heard of, that they had weights still to send."""
        return self.filter(match=match, waiting__gt=0)


class Phone(models.Model):
    """One phone at the scales of one match: what it may do, and when it was last heard of."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="phones")
    scales_pass = models.ForeignKey(
        ScalesPass, models.CASCADE, null=True, blank=True, related_name="phones"
    )
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    name = models.CharField(max_length=40)
    token_hash = models.CharField(max_length=64, unique=True, editable=False)
    enrolled_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    last_seen_at = models.DateTimeField(null=True, blank=True)
    waiting = models.PositiveIntegerField(default=0, help_text="Weights it had still to send.")
    # A phone whose battery died may think it is 1970 or 2036: seconds, and room for them.
    clock_skew = models.BigIntegerField(default=0, help_text="Seconds its clock is ahead.")
    last_seq = models.PositiveBigIntegerField(default=0, help_text="The last entry it made.")

    objects = PhoneQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(scales_pass__isnull=False) | Q(user__isnull=False),
                name="a_phone_has_a_pass_or_a_person",
                violation_error_message="A phone comes in by a pass or by somebody's sign-in.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def in_force(self, at: datetime) -> bool:
        """Whether it may still send."""
        if self.revoked_at is not None or at >= self.expires_at:
            return False
        return self.scales_pass is None or self.scales_pass.in_force(at)


class CaptainPassQuerySet(models.QuerySet["CaptainPass"]):
    """Questions about captains' links."""

    def of(self, match: Match) -> CaptainPassQuerySet:
        """The links of *match*, by team, the newest of a team first."""
        return self.filter(match=match).select_related("team").order_by("team__name", "-made_at")

    def opened_by(self, secret_hash: str) -> CaptainPass | None:
        """The link that the secret opens, in force or not, with what its page prints."""
        found = self.filter(secret_hash=secret_hash)
        return found.select_related(
            "match__club", "match__water__venue", "match__season__league", "team__season"
        ).first()

    def still_open(self, match: Match, team: Team) -> CaptainPassQuerySet:
        """The links of *team* for *match* that nobody has taken back."""
        return self.filter(match=match, team=team, revoked_at__isnull=True)

    def given_out(self, match: Match) -> CaptainPassQuerySet:
        """The links for *match* that nobody has taken back, held until the transaction ends."""
        return self.select_for_update().filter(match=match, revoked_at__isnull=True).order_by("pk")

    def over(self, at: datetime) -> CaptainPassQuerySet:
        """Those that had run out at that time."""
        return self.filter(expires_at__lte=at)

    def locked(self, pk: int) -> CaptainPass:
        """The link, held until the transaction ends."""
        return self.select_for_update(of=("self",)).select_related("match__club", "team").get(pk=pk)


class CaptainPass(models.Model):
    """
    A link that lets a captain name one team's line-up for one match.

    Only a digest of its secret is kept: a copy of the database opens nothing.
    """

    match = models.ForeignKey(Match, models.CASCADE, related_name="captain_passes")
    team = models.ForeignKey(Team, models.CASCADE, related_name="captain_passes")
    secret_hash = models.CharField(max_length=64, unique=True, editable=False)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    named_at = models.DateTimeField(null=True, blank=True, help_text="When it was last used.")

    objects = CaptainPassQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "captain passes"
        constraints = [
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")),
                name="a_link_ends_after_it_begins",
                violation_error_message="The link would end before it begins.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.team}, {self.match}"

    def in_force(self, at: datetime) -> bool:
        """Whether it still lets anybody in."""
        return self.revoked_at is None and at < self.expires_at
