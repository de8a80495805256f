"""Who fishes if a place comes free: a team's reserves, and the waiting list of an open match."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from league.models.entries import Entry
from league.models.matches import Match
from league.models.people import Angler
from league.models.seasons import Team


class ReserveQuerySet(models.QuerySet["Reserve"]):
    """Questions about reserves."""

    def waiting(self, match: Match) -> ReserveQuerySet:
        """Everybody still waiting for a place in *match*, first come first."""
        return (
            self.filter(match=match, came_in__isnull=True, left_at__isnull=True)
            .select_related("angler", "team")
            .order_by("asked_at", "pk")
        )

    def of_team(self, match: Match, team: Team) -> ReserveQuerySet:
        """The reserves *team* has named for *match*, in the order they were named."""
        return self.waiting(match).filter(team=team)

    def on_the_list(self, match: Match) -> ReserveQuerySet:
        """The waiting list of an open match: those who wait for themselves and not for a team."""
        return self.waiting(match).filter(team__isnull=True)

    def with_angler(self, match: Match, angler: Angler) -> Reserve | None:
        """The place of *angler* on a list of *match*, if they wait."""
        return self.waiting(match).filter(angler=angler).first()

    def waited_on_by(self, angler: Angler) -> ReserveQuerySet:
        """Every list of any match on which *angler* still waits."""
        return self.filter(angler=angler, came_in__isnull=True, left_at__isnull=True)

    def in_place_of(self, entry: Entry) -> Reserve | None:
        """Who moved up when *entry* was withdrawn."""
        return self.filter(in_place_of=entry).select_related("angler", "came_in").first()

    def clashing(self, one: Angler, other: Angler) -> ReserveQuerySet:
        """Places of *other* on lists of matches where *one* waits too."""
        matches = self.waited_on_by(one).values("match")
        return self.waited_on_by(other).filter(match__in=matches)


class Reserve(models.Model):
    """Somebody who waits for a place, and what became of it."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="reserves")
    angler = models.ForeignKey(Angler, models.PROTECT, related_name="reserves")
    team = models.ForeignKey(Team, models.CASCADE, null=True, blank=True, related_name="reserves")
    asked_at = models.DateTimeField()
    left_at = models.DateTimeField(null=True, blank=True)
    came_in = models.OneToOneField(
        Entry, models.CASCADE, null=True, blank=True, related_name="was_reserve"
    )
    in_place_of = models.ForeignKey(
        Entry, models.SET_NULL, null=True, blank=True, related_name="replaced_by"
    )

    objects = ReserveQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["match", "angler"],
                condition=Q(left_at__isnull=True, came_in__isnull=True),
                name="once_on_the_waiting_list",
                violation_error_message="This angler is on the list already.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.angler}, {self.match}"
