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

    def longest_backups(self) -> int | None:
        """The most days that any club asks to have a daily backup kept; None where none asks."""
        found: int | None = self.aggregate(days=models.Max("keep_backups"))["days"]
        return found

    def locked(self, pk: int) -> Club:
        """The club, held until the transaction ends."""
        return self.select_for_update().get(pk=pk)

    def held_by(self, user: object, *names: str) -> ClubQuerySet:
        """Clubs in which *user* holds one of the offices *names*."""
        ids = getattr(user, "pk", None)
        if ids is None:
            return self.none()
        return self.filter(offices__user=ids, offices__name__in=names).distinct()


class PaperSize(models.TextChoices):
    """What a club's printer holds."""

    A4 = "a4", "A4"
    LETTER = "letter", "US Letter"


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
    paper = models.CharField(
        max_length=8,
        choices=PaperSize,
        default=PaperSize.A4,
        help_text="What the sheets are set for; they can be asked for on the other paper too.",
    )

    keep_backups = models.PositiveSmallIntegerField(
        null=True,
        blank=True,
        help_text="Days a daily backup is kept; left empty: as long as the installation keeps it.",
    )

    objects = ClubQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name


class AnglerQuerySet(models.QuerySet["Angler"]):
    """Questions about anglers."""

    def of(self, club: Club) -> AnglerQuerySet:
        """The anglers of *club*, by name, but for those who asked to be erased."""
        return self.filter(club=club, erased_at__isnull=True).order_by("name", "pk")

    def erased(self, club: Club) -> AnglerQuerySet:
        """Those of *club* whose name was taken out: their results stand."""
        return self.filter(club=club, erased_at__isnull=False)

    def called(self, club: Club, name: str) -> AnglerQuerySet:
        """The anglers of *club* on record by exactly that name."""
        return self.of(club).filter(name=name)

    def not_in(self, match: models.Model) -> AnglerQuerySet:
        """The anglers of the club of *match* who are not booked in for it."""
        booked = {"entries__match": match, "entries__withdrawn_at__isnull": True}
        inside = self.filter(**booked).values("pk")
        return self.of(match.club).exclude(pk__in=inside)  # type: ignore[attr-defined]

    def but(self, angler: Angler) -> AnglerQuerySet:
        """All but one."""
        return self.exclude(pk=angler.pk)

    def of_user(self, user: object) -> AnglerQuerySet:
        """The member *user* as an angler, in every club."""
        return self.filter(user=getattr(user, "pk", None)).select_related("club").order_by("pk")

    def with_address(self, club: Club) -> AnglerQuerySet:
        """The anglers of *club* to whom an e-mail can be sent."""
        return self.of(club).exclude(email="")

    def who_asked_for_results(self, club: Club) -> AnglerQuerySet:
        """The anglers of *club* who asked to have results sent, and can be."""
        return self.with_address(club).filter(results_by_email=True)

    def locked(self, pk: int) -> Angler:
        """The angler, held until the transaction ends."""
        return self.select_for_update(of=("self",)).select_related("club", "user").get(pk=pk)

    def with_user(self, club: Club, user: object) -> Angler | None:
        """The angler of *club* who is the member *user*."""
        ids = getattr(user, "pk", None)
        return None if ids is None else self.of(club).filter(user=ids).first()

    def who_sign_in(self, club: Club) -> AnglerQuerySet:
        """The anglers of *club* who can sign in, with who they are then."""
        return self.of(club).filter(user__isnull=False).select_related("user")

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
    initial_only = models.BooleanField(
        default=False,
        help_text="Asked to be printed by first name and initial.",
    )
    easy_access = models.BooleanField(default=False, help_text="Needs an easy-access peg.")
    email = models.EmailField(blank=True, help_text="For reminders; never published.")
    results_by_email = models.BooleanField(
        default=False, help_text="Asked to have results sent by e-mail."
    )
    erased_at = models.DateTimeField(null=True, blank=True)
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
        So does anybody who asked for it.
        """
        withheld = self.junior and not self.consent_to_publish
        if not (withheld or self.initial_only) or self.erased_at:
            return self.name
        first, _, rest = self.name.partition(" ")
        shown = f"{first} {rest[0]}." if rest else first
        return f"{shown} (junior)" if withheld else shown


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
