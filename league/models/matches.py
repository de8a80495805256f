"""A match: a round of a season, or a day of its own, at a water; its sections and their pegs."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from django.db import models
from django.utils import timezone

from league.models.people import Angler, Club
from league.models.seasons import League, Season
from league.models.venues import Peg, Water
from league.rules.weights import Unit


class Stage(models.TextChoices):
    """How far the day has come."""

    PLANNED = "planned", "Planned"
    DRAWN = "drawn", "Drawn"
    PUBLISHED = "published", "Provisional result"
    FINAL = "final", "Final result"
    CANCELLED = "cancelled", "Cancelled"


WITH_A_RESULT = frozenset({Stage.PUBLISHED, Stage.FINAL})
WITH_PEGS_DRAWN = WITH_A_RESULT | {Stage.DRAWN}


class MatchQuerySet(models.QuerySet["Match"]):
    """Questions about matches."""

    def of(self, club: Club) -> MatchQuerySet:
        """The matches of *club* with what a list prints, in date order."""
        return (
            self.filter(club=club)
            .select_related("water", "season__league", "club")
            .order_by("date", "all_in", "pk")
        )

    def visible_to(self, user: object) -> MatchQuerySet:
        """Matches of clubs whose pages *user* may read."""
        return self.filter(club__in=Club.objects.visible_to(user)).select_related(
            "water__venue", "season__league", "club"
        )

    def run_by(self, user: object, *offices: str) -> MatchQuerySet:
        """Matches of clubs in which *user* holds one of *offices*."""
        return self.filter(club__in=Club.objects.held_by(user, *offices)).select_related(
            "water__venue", "season__league", "club"
        )

    def to_come(self, on: date) -> MatchQuerySet:
        """Matches still to be fished or weighed on the day *on*, soonest first."""
        return self.filter(date__gte=on, stage__in=[Stage.PLANNED, Stage.DRAWN]).order_by(
            "date", "all_in", "pk"
        )

    def booked_by(self, angler: Angler) -> MatchQuerySet:
        """Matches *angler* is booked in for."""
        return self.filter(entries__angler=angler, entries__withdrawn_at__isnull=True)

    def unfinished(self) -> MatchQuerySet:
        """Matches with something left to do, oldest first."""
        return self.exclude(stage__in=[Stage.FINAL, Stage.CANCELLED]).order_by("date", "pk")

    def published(self) -> MatchQuerySet:
        """Matches with a result, newest first."""
        return self.filter(stage__in=WITH_A_RESULT).order_by("-date", "-all_in", "-pk")

    def fished_before(self, match: Match) -> MatchQuerySet:
        """Matches with a result on the same water and in the same unit, newest first."""
        return self.published().filter(water=match.water_id, unit=match.unit, date__lt=match.date)

    def fished_earlier(self, match: Match) -> MatchQuerySet:
        """Matches before *match*: of its season, or of the club outside any; newest first."""
        return self.filter(
            club=match.club_id, season=match.season_id, date__lt=match.date
        ).order_by("-date", "-pk")

    def with_a_draw(self) -> MatchQuerySet:
        """Those that are drawn, or whose draw is sealed."""
        return self.filter(
            models.Q(stage__in=WITH_PEGS_DRAWN) | models.Q(draw_record__isnull=False)
        )

    def with_money(self) -> MatchQuerySet:
        """Those that an angler has paid for or owes."""
        return self.filter(payments__isnull=False).distinct()

    def rounds_of(self, season: Season) -> MatchQuerySet:
        """The rounds of *season* in their order."""
        return self.filter(season=season).select_related("water").order_by("round")

    def held(self) -> list[int]:
        """Hold these matches until the transaction ends, always in the same order; their keys."""
        return list(self.select_for_update().order_by("pk").values_list("pk", flat=True))

    def still_to_come(self) -> MatchQuerySet:
        """Those without a result, and not called off."""
        return self.filter(stage__in=[Stage.PLANNED, Stage.DRAWN])

    def cancelled_rounds(self, season: Season) -> list[int]:
        """The numbers of the rounds that were called off."""
        found = self.filter(season=season, stage=Stage.CANCELLED, round__isnull=False)
        return [number or 0 for number in found.values_list("round", flat=True)]

    def for_calendar(self, since: date) -> MatchQuerySet:
        """What a calendar shows: matches from the day *since* on, called off or not."""
        return self.filter(date__gte=since).select_related("water__venue", "season__league", "club")

    def between(self, since: date | None, until: date | None) -> MatchQuerySet:
        """Matches from the day *since* to the day *until*; None leaves an end open."""
        found = self if since is None else self.filter(date__gte=since)
        return found if until is None else found.filter(date__lte=until)

    def with_venue(self) -> MatchQuerySet:
        """With the venue of the water."""
        return self.select_related("water__venue", "season__league", "club")

    def of_league(self, league: League) -> MatchQuerySet:
        """The rounds of every season of *league*, in date order."""
        return self.filter(season__league=league).order_by("date", "all_in", "pk")

    def moved(self, pk: int, at: datetime) -> None:
        """Count one more act that moves a match or calls it off."""
        self.filter(pk=pk).update(moves=models.F("moves") + 1, moved_at=at)

    def whole(self, pk: int) -> Match:
        """The match as it is now, with everything its result prints."""
        return self.select_related("club", "season__league", "water__venue").get(pk=pk)

    def locked(self, pk: int) -> Match:
        """The match, held until the transaction ends: whoever comes second waits."""
        return self.select_for_update(of=("self",)).select_related("club", "season").get(pk=pk)


class Match(models.Model):
    """A round on a day at a water."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="matches")
    season = models.ForeignKey(
        Season, models.CASCADE, null=True, blank=True, related_name="matches"
    )
    round = models.PositiveSmallIntegerField(null=True, blank=True)
    name = models.CharField(max_length=80, blank=True, help_text="Left empty: Round 6.")
    water = models.ForeignKey(Water, models.PROTECT, related_name="matches")
    date = models.DateField()
    book_in = models.TimeField(null=True, blank=True)
    draw_at = models.TimeField(null=True, blank=True)
    all_in = models.TimeField(null=True, blank=True)
    all_out = models.TimeField(null=True, blank=True)
    unit = models.CharField(
        max_length=5, choices=[(unit.value, unit.value) for unit in Unit], default=Unit.LB_OZ
    )
    # The rule book of a match outside a season; a round takes its season's.
    book = models.JSONField(null=True, blank=True)
    per_section = models.PositiveSmallIntegerField(
        default=1, help_text="Members of one team in a section."
    )
    places = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="How many can be booked in; left empty: as many as pegs."
    )
    objections_until = models.DateTimeField(null=True, blank=True)
    # When an objection was last made or answered, so that a kept page knows when it is stale.
    objected_at = models.DateTimeField(null=True, blank=True, editable=False)
    board_shown = models.BooleanField(
        default=False, help_text="Weights may be followed as they come in."
    )
    stage = models.CharField(max_length=10, choices=Stage, default=Stage.PLANNED)
    # Counts what moves a match: a calendar takes over only what has a higher number, and dates it.
    moves = models.PositiveIntegerField(default=0, editable=False)
    moved_at = models.DateTimeField(default=timezone.now, editable=False)

    objects = MatchQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "matches"
        constraints = [
            models.UniqueConstraint(
                fields=["season", "round"],
                name="one_match_a_round",
                violation_error_message="The season already has this round.",
            ),
            models.CheckConstraint(
                condition=models.Q(season__isnull=True) | models.Q(round__isnull=False),
                name="a_round_has_a_number",
                violation_error_message="A match of a season needs the number of its round.",
            ),
        ]

    def __str__(self) -> str:
        return self.title

    @property
    def title(self) -> str:
        """Its name, or which round it is."""
        return self.name or (f"Round {self.round}" if self.round else "Match")

    @property
    def announced_book(self) -> dict[str, object]:
        """The rule book in force, as kept: the match's own, else its season's."""
        own: dict[str, object] | None = self.book
        if own is not None:
            return own
        return dict(self.season.book) if self.season else {}

    @property
    def is_drawn(self) -> bool:
        """Whether pegs have been drawn."""
        return self.stage in WITH_PEGS_DRAWN

    @property
    def has_result(self) -> bool:
        """Whether a result stands, provisional or final."""
        return self.stage in WITH_A_RESULT


class Section(models.Model):
    """A run of pegs ranked against each other."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="sections")
    letter = models.CharField(max_length=3)
    order = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["match", "order"]
        constraints = [
            models.UniqueConstraint(
                fields=["match", "letter"],
                name="one_section_a_letter",
                violation_error_message="The match already has a section of this letter.",
            ),
        ]

    def __str__(self) -> str:
        return self.letter


class MatchPegQuerySet(models.QuerySet["MatchPeg"]):
    """Questions about the pegs of a match."""

    def counts(self, matches: Iterable[Match]) -> dict[int, int]:
        """How many pegs may be fished in each of *matches*, by the match's key."""
        open_pegs = self.filter(match__in=list(matches), closed_why="")
        return dict(open_pegs.values_list("match").annotate(pegs=models.Count("pk")))

    def of(self, match: Match) -> MatchPegQuerySet:
        """The pegs of *match* in bank order, with peg and section."""
        return self.filter(match=match).select_related("peg", "section").order_by("peg__order")

    def still_open(self) -> MatchPegQuerySet:
        """Those that nobody has closed as unsafe."""
        return self.filter(closed_why="")

    def without_angler(self) -> MatchPegQuerySet:
        """Those that nobody sits on."""
        return self.exclude(entries__withdrawn_at__isnull=True, entries__isnull=False)

    def ends(self, matches: Iterable[Match]) -> frozenset[int]:
        """The first and the last peg of every section of *matches*, as drawn from."""
        last: dict[int, int] = {}
        found: set[int] = set()
        used = self.filter(match__in=list(matches)).order_by("section", "peg__order")
        for pk, section in used.values_list("pk", "section"):
            if section not in last:
                found.add(pk)
            last[section] = pk
        return frozenset(found.union(last.values()))

    def by_own_number(self, match: Match) -> dict[str, MatchPeg]:
        """The pegs of *match* by the number painted on them."""
        return {each.peg.number: each for each in self.of(match)}


class MatchPeg(models.Model):
    """A peg used in a match, and the section it is in."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="match_pegs")
    section = models.ForeignKey(Section, models.CASCADE, related_name="match_pegs")
    peg = models.ForeignKey(Peg, models.PROTECT, related_name="match_pegs")
    # Found unsafe on the morning: stays in its section's list, but nobody may fish it.
    closed_why = models.CharField(max_length=120, blank=True)

    objects = MatchPegQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["match", "peg"],
                name="a_peg_in_one_section",
                violation_error_message="This peg is already in a section of the match.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.section.letter} {self.peg.number}"
