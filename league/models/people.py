"""The club, its anglers and who holds which office in it."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class ClubQuerySet(models.QuerySet["Club"]):
    """Questions about clubs."""

    def visible_to(self, user: object) -> ClubQuerySet:
        """Clubs whose pages *user* may read: the public ones and their own."""
        ids = getattr(user, "pk", None)
        if ids is None:
            return self.filter(public=True)
        return self.filter(
            models.Q(public=True) | models.Q(offices__user=ids) | models.Q(anglers__user=ids)
        ).distinct()

    def private(self) -> ClubQuerySet:
        """Clubs whose pages are for their members."""
        return self.filter(public=False)

    def by_name(self) -> ClubQuerySet:
        """In the order of their names."""
        return self.order_by("name", "pk")

    def held_by(self, user: object, *names: str) -> ClubQuerySet:
        """Clubs in which *user* holds one of the offices *names*."""
        ids = getattr(user, "pk", None)
        if ids is None:
            return self.none()
        return self.filter(offices__user=ids, offices__name__in=names).distinct()


class Club(models.Model):
    """Everything belongs to a club; one installation can hold many."""

    name = models.CharField(max_length=80)
    slug = models.SlugField(unique=True)
    public = models.BooleanField(
        default=True, help_text="Anyone may read results and tables; else members only."
    )
    objection_hours = models.PositiveSmallIntegerField(
        default=27, help_text="Hours after a result is published in which objections are heard."
    )

    objects = ClubQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name


class AnglerQuerySet(models.QuerySet["Angler"]):
    """Questions about anglers."""

    def of(self, club: Club) -> AnglerQuerySet:
        """The anglers of *club*, by name."""
        return self.filter(club=club).order_by("name", "pk")

    def visible_to(self, user: object) -> AnglerQuerySet:
        """Anglers of clubs whose pages *user* may read."""
        return self.filter(club__in=Club.objects.visible_to(user)).select_related("club")


class Angler(models.Model):
    """Somebody who fishes the club's matches."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="anglers")
    name = models.CharField(max_length=80)
    junior = models.BooleanField(default=False)
    consent_to_publish = models.BooleanField(
        default=False,
        help_text="A junior's full name may be printed: consent is on record.",
    )
    easy_access = models.BooleanField(default=False, help_text="Needs an easy-access peg.")
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="anglers"
    )

    objects = AnglerQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["club", "user"],
                name="one_angler_a_member",
                violation_error_message="This member is already an angler of the club.",
            ),
        ]

    def __str__(self) -> str:
        return self.shown_name

    @property
    def shown_name(self) -> str:
        """
        The name as it may be printed.

        A junior without consent on record goes by first name and initial: children's names in
        full are not published (sports safeguarding practice; the club's own policy comes first).
        """
        if not self.junior or self.consent_to_publish:
            return self.name
        first, _, rest = self.name.partition(" ")
        return f"{first} {rest[0]}. (junior)" if rest else f"{first} (junior)"


class OfficeName(models.TextChoices):
    """What a member may do for the club."""

    SECRETARY = "secretary", "Match secretary"
    SCALES = "scales", "Scales"
    TREASURER = "treasurer", "Treasurer"
    CAPTAIN = "captain", "Captain"
    MEMBER = "member", "Member"


class OfficeQuerySet(models.QuerySet["Office"]):
    """Questions about offices."""

    def of_user(self, user: object) -> OfficeQuerySet:
        """The offices *user* holds, with their clubs."""
        return self.filter(user=getattr(user, "pk", None)).select_related("club")

    def of(self, club: Club) -> OfficeQuerySet:
        """The offices of *club*, with who holds them, by name."""
        return (
            self.filter(club=club)
            .select_related("user")
            .order_by("user__first_name", "user__last_name", "user__username", "pk")
        )

    def called(self, name: str) -> OfficeQuerySet:
        """The offices of that name."""
        return self.filter(name=name)


class Office(models.Model):
    """A member's office in a club; one person can hold several."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="offices")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="offices")
    name = models.CharField(max_length=12, choices=OfficeName)

    objects = OfficeQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["club", "user", "name"],
                name="one_office_once",
                violation_error_message="This member already holds that office.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user}, {self.get_name_display()}, {self.club}"
