"""Where matches are fished: venues, their waters and the pegs along the bank."""

from __future__ import annotations

from datetime import date

from django.db import models

from league.models.people import Club


class VenueQuerySet(models.QuerySet["Venue"]):
    """Questions about venues."""

    def called(self, club: Club, name: str) -> Venue | None:
        """The venue of *club* by its name."""
        return self.filter(club=club, name__iexact=name).first()


class Venue(models.Model):
    """A fishery; its rules come before the club's."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="venues")
    name = models.CharField(max_length=80)
    rules = models.TextField(blank=True, help_text="The venue's own rules, printed on peg plans.")
    note_for_bailiff = models.TextField(blank=True)

    objects = VenueQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["club", "name"],
                name="one_venue_a_name",
                violation_error_message="The club already has a venue of this name.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class WaterQuerySet(models.QuerySet["Water"]):
    """Questions about waters."""

    def of(self, club: Club) -> WaterQuerySet:
        """The waters of *club*, by name."""
        return self.filter(venue__club=club).select_related("venue").order_by("name")

    def visible_to(self, user: object) -> WaterQuerySet:
        """Waters of clubs whose pages *user* may read."""
        return self.filter(venue__club__in=Club.objects.visible_to(user)).select_related(
            "venue__club"
        )

    def with_pegs(self) -> WaterQuerySet:
        """With how many pegs each has (`pegs_in_all`), and how many are left out (`pegs_out`)."""
        return self.annotate(
            pegs_in_all=models.Count("pegs"),
            pegs_out=models.Count("pegs", filter=models.Q(pegs__left_out=True)),
        ).order_by("venue__name", "name")

    def called(self, club: Club, name: str, venue: str = "") -> Water | None:
        """The water of *club* by its name, at *venue* where that is known."""
        found = self.of(club).filter(name__iexact=name)
        return (found.filter(venue__name__iexact=venue) if venue else found).first()


class Water(models.Model):
    """A lake, a canal length, a stretch of river: one bank walked in one order."""

    venue = models.ForeignKey(Venue, models.CASCADE, related_name="waters")
    name = models.CharField(max_length=80)
    net_limit = models.CharField(
        max_length=80, blank=True, help_text="As the venue says it: 50 lb, carp 80 lb."
    )
    usual_sections = models.TextField(
        blank=True, help_text="A line a section, its pegs as they are said: 1-11."
    )

    objects = WaterQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["venue", "name"],
                name="one_water_a_name",
                violation_error_message="The venue already has a water of this name.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PegQuerySet(models.QuerySet["Peg"]):
    """Questions about pegs."""

    def by_water_of(self, club: Club) -> dict[int, list[Peg]]:
        """The pegs of every water of *club* in bank order, by the water's key."""
        found: dict[int, list[Peg]] = {}
        for peg in self.filter(water__venue__club=club).order_by("water", "order"):
            found.setdefault(peg.water_id, []).append(peg)
        return found

    def along(self, water: Water) -> PegQuerySet:
        """Every peg of *water*, in bank order."""
        return self.filter(water=water).order_by("order")

    def usable(self, on: date | None = None) -> PegQuerySet:
        """Pegs that may be drawn: not left out, or not on the day *on*."""
        if on is None:
            return self.filter(left_out=False)
        back = models.Q(out_until__lt=on) | models.Q(out_from__gt=on)
        return self.filter(models.Q(left_out=False) | back)

    def fished(self) -> PegQuerySet:
        """Those that a match has used, which no bank can be without any more."""
        return self.filter(match_pegs__isnull=False).distinct()


class Peg(models.Model):
    """A numbered fishing place. Its number is text: 12a and P3 are pegs."""

    water = models.ForeignKey(Water, models.CASCADE, related_name="pegs")
    number = models.CharField(max_length=8)
    order = models.PositiveIntegerField(help_text="Place along the bank, 1 at the near end.")
    gap_after = models.BooleanField(
        default=False,
        help_text="The bank breaks after this peg: its neighbours are not side by side.",
    )
    easy_access = models.BooleanField(default=False)
    left_out = models.BooleanField(default=False, help_text="Not to be drawn.")
    left_out_why = models.CharField(max_length=120, blank=True)
    out_from = models.DateField(null=True, blank=True, help_text="Left empty: already out.")
    out_until = models.DateField(null=True, blank=True, help_text="Its last day out.")
    hazards = models.CharField(
        max_length=200, blank=True, help_text="Overhead line, deep margin, steep bank ..."
    )

    objects = PegQuerySet.as_manager()

    class Meta:
        ordering = ["water", "order"]
        constraints = [
            models.UniqueConstraint(
                fields=["water", "number"],
                name="one_peg_a_number",
                violation_error_message="The water already has a peg of this number.",
            ),
            models.UniqueConstraint(
                fields=["water", "order"],
                name="one_peg_a_place",
                violation_error_message="Two pegs cannot stand at the same place along the bank.",
            ),
            models.CheckConstraint(
                condition=models.Q(left_out=False) | ~models.Q(left_out_why=""),
                name="left_out_says_why",
                violation_error_message="Say why the peg is left out.",
            ),
            models.CheckConstraint(
                condition=models.Q(out_from__isnull=True)
                | models.Q(out_until__isnull=True)
                | models.Q(out_from__lte=models.F("out_until")),
                name="out_from_before_until",
                violation_error_message="The last day out comes before the first.",
            ),
        ]

    def __str__(self) -> str:
        return self.number

    def is_out(self, on: date | None = None) -> bool:
        """Whether it may not be drawn on the day *on*; without a day, whether it is left out."""
        if not self.left_out or on is None:
            return self.left_out
        begun = self.out_from is None or self.out_from <= on
        return begun and (self.out_until is None or on <= self.out_until)
