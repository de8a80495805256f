"""A result as published: numbered, frozen, kept as it was read out."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.conf import settings
from django.db import connection, models
from django.db.models import Max, OuterRef, Q, Subquery
from django.db.models.fields.json import KT

from league.models.matches import Match
from league.models.people import Angler, Club
from league.models.seasons import League, Season
from league.models.venues import Water

SEAL = """
    SELECT r.id, r.version, r.published_at, r.final_at, r.names_at, m.objected_at,
           m.name, m.round, w.name, c.name, c.slug,
           (SELECT MAX(version) FROM league_result WHERE match_id = m.id)
    FROM league_result AS r
    JOIN league_match AS m ON m.id = r.match_id
    JOIN league_water AS w ON w.id = m.water_id
    JOIN league_club AS c ON c.id = m.club_id
    WHERE m.id = %s AND c.public AND r.version =
          COALESCE(%s, (SELECT MAX(version) FROM league_result WHERE match_id = m.id))
"""


class ResultQuerySet(models.QuerySet["Result"]):
    """Questions about results."""

    def of(self, match: Match) -> ResultQuerySet:
        """The versions of *match*'s result, newest first."""
        return self.filter(match=match).select_related("published_by").order_by("-version")

    def of_matches(self, matches: Iterable[Match]) -> ResultQuerySet:
        """The versions in force of several matches, each with its match."""
        return self.newest().filter(match__in=list(matches)).select_related("match__club")

    def readable_by(self, user: object) -> ResultQuerySet:
        """
        Results of clubs whose pages *user* may read, newest version first.

        Each with what a page's head prints and `in_force`, the newest version; without the
        document, so that a kept page is answered from one small row.
        """
        return (
            self.filter(match__club__in=Club.objects.visible_to(user))
            .select_related("match__club", "match__season__league", "match__water__venue")
            .defer("document")
            .annotate(in_force=self._latest())
            .order_by("-version")
        )

    def version_of(self, match_id: int, version: int | None = None) -> ResultQuerySet:
        """One version of a match's result; without a number, the newest."""
        found = self.filter(match_id=match_id)
        if version is not None:
            return found.filter(version=version)
        return found.filter(version=self._latest())

    def seal(self, match_id: int, version: int | None = None) -> tuple[object, ...] | None:
        """
        What a stranger's kept page of a result hangs on, or None where there is no such page.

        Written as SQL: putting the same question together from its parts takes Django eight times
        as long as answering it, and it is asked for every page that is read.
        """
        with connection.cursor() as cursor:
            cursor.execute(SEAL, [match_id, version])
            found: tuple[object, ...] | None = cursor.fetchone()
        return found

    def newest(self) -> ResultQuerySet:
        """Of every match the version in force."""
        return self.filter(version=self._latest())

    def _latest(self) -> Subquery:
        versions = Result.objects.filter(match=OuterRef("match")).order_by("-version")
        return Subquery(versions.values("version")[:1])

    def naming(self, angler: Angler) -> ResultQuerySet:
        """Every version of every match *angler* was entered for, withdrawn or not, held."""
        matches = Match.objects.filter(entries__angler=angler).values("pk")
        return self.filter(match__in=matches).select_for_update(of=("self",)).order_by("pk")

    def rounds_of(self, season: Season) -> ResultQuerySet:
        """The results in force of a season's rounds, in their order."""
        return (
            self.newest()
            .filter(match__season=season)
            .select_related("match__water")
            .order_by("match__round")
        )

    def due_to_be_final(self, at: datetime) -> ResultQuerySet:
        """The versions in force that are provisional though objections are closed by *at*."""
        waiting = self.newest().filter(final_at=None, objections_until__lte=at)
        return waiting.select_related("match__club").defer("document").order_by("pk")

    def rounds_at(self, season: Season, at: datetime, *, after: bool) -> ResultQuerySet:
        """The results in force just before *at*, or just *after*, of a season's rounds."""
        until = "published_at__lte" if after else "published_at__lt"
        versions = Result.objects.filter(match=OuterRef("match"), **{until: at})
        newest = Subquery(versions.order_by("-version").values("version")[:1])
        return (
            self.filter(match__season=season, version=newest)
            .select_related("match__water")
            .order_by("match__round")
        )

    def best_weights_before(self, match: Match) -> list[tuple[str, str]]:
        """The heaviest weight of each earlier match on the same water, and its unit, as kept."""
        earlier = self.newest().filter(
            match__club=match.club, match__water=match.water, match__date__lt=match.date
        )
        found: list[tuple[str, str]] = list(
            # As text: a weight in kilograms would come back as a float.
            earlier.exclude(document__anglers=[]).values_list(
                KT("document__anglers__0__weight"), KT("document__match__unit")
            )
        )
        return found

    def fished_by(self, angler: Angler) -> ResultQuerySet:
        """The results in force of every match *angler* was booked in for, newest match first."""
        matches = Match.objects.filter(entries__angler=angler).values("pk")
        return (
            self.newest()
            .filter(match__in=matches)
            .select_related("match__water", "match__season__league")
            .order_by("-match__date", "-match__pk")
        )

    def last_published_in(self, season: Season) -> datetime | None:
        """When a result of *season* was last published."""
        last: datetime | None = self.filter(match__season=season).aggregate(
            last=Max("published_at")
        )["last"]
        return last

    def last_change_of(self, club: Club) -> str:
        """What tells one state of everything *club* has published from every other."""
        found = self.filter(match__club=club).aggregate(
            last=Max("pk"), published=Max("published_at"), names=Max("names_at")
        )
        return " ".join(str(value) for value in found.values())

    def of_club(self, club: Club) -> ResultQuerySet:
        """The results in force of *club*, newest match first."""
        return (
            self.newest()
            .filter(match__club=club)
            .select_related("match__water", "match__season__league")
            .order_by("-match__date", "-match__pk")
        )

    def on_water(self, water: Water) -> ResultQuerySet:
        """The results in force of every match of *water*, newest match first."""
        return (
            self.newest()
            .filter(match__water=water)
            .select_related("match__season__league")
            .order_by("-match__date", "-match__pk")
        )

    def of_league(self, league: League) -> ResultQuerySet:
        """The results in force of every season of *league*, newest match first."""
        return (
            self.newest()
            .filter(match__season__league=league)
            .select_related("match__water", "match__season__league")
            .order_by("-match__date", "-match__pk")
        )


class Result(models.Model):
    """
    One version. No figure of the document ever changes; making it final is added later.

    The names in it are the anglers': one that is withheld or taken out goes from every version
    (`operations/names.py`), and `names_at` says when.
    """

    match = models.ForeignKey(Match, models.CASCADE, related_name="results")
    version = models.PositiveSmallIntegerField()
    document = models.JSONField(editable=False)
    headline = models.CharField(max_length=200)
    why = models.CharField(max_length=300, blank=True, help_text="Why it was corrected.")
    published_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    published_at = models.DateTimeField()
    names_at = models.DateTimeField(null=True, blank=True, editable=False)
    objections_until = models.DateTimeField(null=True, blank=True)
    final_at = models.DateTimeField(null=True, blank=True)
    final_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    objects = ResultQuerySet.as_manager()

    class Meta:
        # A row is long, its document in it: what every page asks for is found without reading one.
        indexes = [models.Index(fields=["match", "published_at"], name="results_by_time")]
        constraints = [
            models.UniqueConstraint(
                fields=["match", "version"],
                name="one_result_a_version",
                violation_error_message="This version was published meanwhile; look again.",
            ),
            models.CheckConstraint(
                condition=Q(version__gte=1),
                name="versions_count_from_one",
                violation_error_message="Versions are counted from 1.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.match}, version {self.version}"

    @property
    def state(self) -> str:
        """Provisional until it is made final."""
        return "final" if self.final_at else "provisional"
