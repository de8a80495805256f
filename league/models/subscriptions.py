"""A member's own address for calendars and feed readers, where a club's pages are for members."""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.db import models
from django.db.models import Q

from league.models.people import Club


class SubscriptionQuerySet(models.QuerySet["Subscription"]):
    """Questions about subscriptions."""

    def open_of(self, club: Club, user: object) -> Subscription | None:
        """The one *user* has for *club* and has not taken back."""
        ids = getattr(user, "pk", None)
        if ids is None:
            return None
        return self.filter(club=club, user=ids, revoked_at__isnull=True).first()

    def numbered(self, pk: int) -> Subscription | None:
        """The subscription of that number, in force or not, with whose it is."""
        return self.filter(pk=pk).select_related("club", "user").first()

    def over(self, at: datetime) -> SubscriptionQuerySet:
        """Those taken back by that time."""
        return self.filter(revoked_at__lte=at)


class Subscription(models.Model):
    """
    That a program may read what a club publishes on behalf of one member.

    Nothing secret is kept: the address is signed with the installation's key, so that it can be
    shown to its owner again, and a copy of the database opens nothing.
    """

    club = models.ForeignKey(Club, models.CASCADE, related_name="subscriptions")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="subscriptions")
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    objects = SubscriptionQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["club", "user"],
                condition=Q(revoked_at__isnull=True),
                name="one_open_subscription_a_member",
                violation_error_message="This member has an address for programs already.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user}, {self.club}"
