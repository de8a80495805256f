"""Who is asked in, and who knocks: invitations to an office, and tries that the throttle counts."""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from league.models.people import Club, OfficeName


class InvitationQuerySet(models.QuerySet["Invitation"]):
    """Questions about invitations."""

    def of(self, club: Club) -> InvitationQuerySet:
        """The invitations of *club*, newest first."""
        return self.filter(club=club).select_related("taken_up_by").order_by("-made_at", "-pk")

    def opened_by(self, secret_hash: str) -> Invitation | None:
        """The invitation that the secret opens, in force or not."""
        return self.filter(secret_hash=secret_hash).select_related("club").first()

    def locked(self, pk: int) -> Invitation:
        """The invitation, held until the transaction ends."""
        return self.select_for_update(of=("self",)).select_related("club").get(pk=pk)

    def over(self, at: datetime) -> InvitationQuerySet:
        """Invitations that had ended, one way or another, at that time."""
        return self.filter(expires_at__lte=at)


class Invitation(models.Model):
    """
    A link that lets one person take up an office, once.

    Only a digest of its secret is kept: a copy of the database opens nothing.
    """

    club = models.ForeignKey(Club, models.CASCADE, related_name="invitations")
    name = models.CharField(max_length=80, help_text="Who is asked.")
    email = models.EmailField(blank=True, help_text="Where the link was sent, if it was.")
    offices = models.JSONField(default=list)
    secret_hash = models.CharField(max_length=64, unique=True, editable=False)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    taken_up_at = models.DateTimeField(null=True, blank=True)
    taken_up_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    objects = InvitationQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")),
                name="an_invitation_ends_after_it_begins",
                violation_error_message="The invitation would end before it begins.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def in_force(self, at: datetime) -> bool:
        """Whether it can still be taken up."""
        return self.revoked_at is None and self.taken_up_at is None and at < self.expires_at

    @property
    def office_names(self) -> list[str]:
        """The offices it gives, in words."""
        return [OfficeName(name).label for name in self.offices]


class KnockQuerySet(models.QuerySet["Knock"]):
    """Questions about tries."""

    def since(self, kind: str, key: str, at: datetime) -> KnockQuerySet:
        """Tries of that kind under that key since *at*, oldest first."""
        return self.filter(kind=kind, key=key, at__gt=at).order_by("at", "pk")

    def before(self, at: datetime) -> KnockQuerySet:
        """Tries so old that no throttle counts them."""
        return self.filter(at__lte=at)

    def under(self, kind: str, key: str) -> KnockQuerySet:
        """Every try of that kind under that key."""
        return self.filter(kind=kind, key=key)


class Knock(models.Model):
    """
    A try at a door that did not open, or a letter asked for: what the throttle counts.

    The key is a keyed digest of a name or an address, so that neither can be read out of it.
    """

    kind = models.CharField(max_length=20)
    key = models.CharField(max_length=64)
    at = models.DateTimeField()

    objects = KnockQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["kind", "key", "at"], name="knock_by_key")]

    def __str__(self) -> str:
        return f"{self.kind}, {self.at:%d %b %H:%M}"
