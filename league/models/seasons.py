"""A league, its seasons with their rule books, and the teams that fish them."""

from __future__ import annotations

from django.conf import settings
from django.db import connection, models
from django.utils.text import slugify

from league.models.fields import LineUpBy
from league.models.people import Angler, Club


class LeagueQuerySet(models.QuerySet["League"]):
    """Questions about leagues."""

    def of(self, club: Club) -> LeagueQuerySet:
        """The leagues of *club*, by name."""
        return self.filter(club=club).order_by("name", "pk")

    def called(self, club: Club, slug: str) -> League | None:
        """The league of *club* by its name as its address has it."""
        return self.filter(club=club, slug=slug).select_related("club").first()

    def visible_to(self, user: object) -> LeagueQuerySet:
        """Leagues of clubs whose pages *user* may read."""
        return self.filter(club__in=Club.objects.visible_to(user)).select_related("club")


class League(models.Model):
    """A competition that comes back every season."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="leagues")
    name = models.CharField(max_length=80)
    slug = models.SlugField()

    objects = LeagueQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["club", "slug"],
                name="one_league_a_name",
                violation_error_message="The club already has a league of this name.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


SEAL = """
    SELECT s.id, s.table_version, s.name, l.name, c.name, c.slug,
           (SELECT MAX(r.published_at) FROM league_result AS r
            JOIN league_match AS m ON m.id = r.match_id WHERE m.season_id = s.id)
    FROM league_season AS s
    JOIN league_league AS l ON l.id = s.league_id
    JOIN league_club AS c ON c.id = l.club_id
    WHERE s.id = %s AND c.public
"""


class SeasonQuerySet(models.QuerySet["Season"]):
    """Questions about seasons."""

    def of(self, club: Club) -> SeasonQuerySet:
        """The seasons of *club*, newest first."""
        return (
            self.filter(league__club=club).select_related("league__club").order_by("-starts", "pk")
        )

    def called(self, league: League, name: str) -> Season | None:
        """The season of *league* by its name, as it is written or as its address has it."""
        slug = slugify(name.replace("–", "-"))
        return self.filter(league=league, slug=slug).select_related("league__club").first()

    def visible_to(self, user: object) -> SeasonQuerySet:
        """Seasons of clubs whose pages *user* may read."""
        return self.filter(league__club__in=Club.objects.visible_to(user)).select_related(
            "league__club"
        )

    def seal(self, season_id: int) -> tuple[object, ...] | None:
        """
        What a stranger's kept page of a table hangs on, or None where there is no such page.

        SQL for the same reason as the seal of a result.
        """
        with connection.cursor() as cursor:
            cursor.execute(SEAL, [season_id])
            found: tuple[object, ...] | None = cursor.fetchone()
        return found

    def locked(self, pk: int) -> Season:
        """The season, held until the transaction ends."""
        return self.select_for_update(of=("self",)).select_related("league__club").get(pk=pk)

    def table_changed(self, pk: int) -> None:
        """Count one more act that can change the table, so that a kept page is made again."""
        self.filter(pk=pk).update(table_version=models.F("table_version") + 1)


class Season(models.Model):
    """One running of a league: its rule book, its rounds, its teams."""

    league = models.ForeignKey(League, models.CASCADE, related_name="seasons")
    name = models.CharField(max_length=40, help_text="2026–27")
    slug = models.SlugField()
    starts = models.DateField()
    planned_rounds = models.PositiveSmallIntegerField(default=0)
    book = models.JSONField(default=dict, help_text="The rule book, as announced.")
    # How the last draw of the season was made, which the next one is made like.
    line_up = models.CharField(max_length=10, choices=LineUpBy, default=LineUpBy.NAMED)
    end_pegs_shared = models.BooleanField(default=False)
    # Counts every act that can change the table, so that a kept page knows when it is stale.
    table_version = models.PositiveIntegerField(default=0, editable=False)

    objects = SeasonQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["league", "slug"],
                name="one_season_a_name",
                violation_error_message="The league already has a season of this name.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.league.name} {self.name}"


class RulesChangeQuerySet(models.QuerySet["RulesChange"]):
    """Questions about changes of a season's rules."""

    def of(self, season: Season) -> RulesChangeQuerySet:
        """What was changed in the rules of *season* once it had begun, newest first."""
        return self.filter(season=season).select_related("by").order_by("-at", "-pk")


class RulesChange(models.Model):
    """
    The rules of a season changed after a round was published: by whom, why, what it moved.

    The book as it was stays readable; what was published under it names it anyway.
    """

    season = models.ForeignKey(Season, models.CASCADE, related_name="rules_changes")
    was = models.JSONField(help_text="The rule book before.")
    becomes = models.JSONField(help_text="The rule book from then on.")
    after_round = models.PositiveSmallIntegerField(help_text="The last round published before.")
    moved = models.JSONField(default=list, help_text="What moved in the table, in sentences.")
    why = models.CharField(max_length=300)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    objects = RulesChangeQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(why=""),
                name="a_rules_change_says_why",
                violation_error_message="Say why the rules change.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.season}: {self.why}"


class TeamQuerySet(models.QuerySet["Team"]):
    """Questions about teams."""

    def of(self, season: Season) -> TeamQuerySet:
        """The teams of *season*, by name."""
        return self.filter(season=season).order_by("name")

    def visible_to(self, user: object) -> TeamQuerySet:
        """Teams of clubs whose pages *user* may read."""
        return self.filter(season__league__club__in=Club.objects.visible_to(user)).select_related(
            "season__league__club"
        )


class Team(models.Model):
    """A team for one season."""

    season = models.ForeignKey(Season, models.CASCADE, related_name="teams")
    name = models.CharField(max_length=60)
    code = models.CharField(
        max_length=8, help_text="One to eight capitals or digits; stands for the team in the draw."
    )

    objects = TeamQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["season", "name"],
                name="one_team_a_name",
                violation_error_message="The season already has a team of this name.",
            ),
            models.UniqueConstraint(
                fields=["season", "code"],
                name="one_team_a_code",
                violation_error_message="Another team of the season has this code.",
            ),
            models.CheckConstraint(
                condition=models.Q(code__regex=r"^[A-Z0-9]{1,8}$"),
                name="team_code_is_plain",
                violation_error_message="A team's code is one to eight capitals or digits.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class SquadMemberQuerySet(models.QuerySet["SquadMember"]):
    """Questions about squads."""

    def of(self, team: Team) -> SquadMemberQuerySet:
        """The squad of *team*, the captain first, then by name."""
        return self.filter(team=team).select_related("angler").order_by("-captain", "angler__name")

    def of_season(self, season: Season) -> SquadMemberQuerySet:
        """Every squad of *season*, team by team, the captain first."""
        return (
            self.filter(team__season=season)
            .select_related("angler", "team")
            .order_by("team__name", "-captain", "angler__name", "pk")
        )

    def by_team_of(self, season: Season) -> dict[int, list[SquadMember]]:
        """Every squad of *season*, the captain first, by the team's key."""
        found: dict[int, list[SquadMember]] = {}
        members = self.filter(team__season=season).select_related("angler")
        for member in members.order_by("-captain", "angler__name"):
            found.setdefault(member.team_id, []).append(member)
        return found

    def anglers_of(self, season: Season) -> frozenset[int]:
        """Everybody who is in a squad of *season*."""
        return frozenset(self.filter(team__season=season).values_list("angler", flat=True))

    def captains(self, season: Season) -> frozenset[int]:
        """The anglers who captain a team of *season*."""
        found = self.filter(team__season=season, captain=True)
        return frozenset(found.values_list("angler", flat=True))

    def captained_by(self, user: object, season_id: int | None) -> SquadMember | None:
        """The squad of the season that the member *user* captains."""
        mine = self.filter(angler__user=user, angler__user__isnull=False, captain=True)  # type: ignore[misc]
        return mine.filter(team__season=season_id).select_related("team").first()

    def captains_of(self, season: Season) -> SquadMemberQuerySet:
        """The captains of *season*'s teams, with the anglers they are."""
        return self.filter(team__season=season, captain=True).select_related("angler", "team")

    def clashing(self, one: Angler, other: Angler) -> SquadMemberQuerySet:
        """Squads of *other* in seasons for which *one* is in a squad too, with their teams."""
        seasons = self.filter(angler=one).values("team__season")
        return self.filter(angler=other, team__season__in=seasons).select_related("team__season")

    def with_angler(self, angler: Angler) -> SquadMemberQuerySet:
        """The squads *angler* is in."""
        return self.filter(angler=angler).select_related("team__season__league")

    def elsewhere(self, team: Team, angler: Angler) -> SquadMember | None:
        """*angler* in the squad of another team of the same season, if they are in one."""
        return (
            self.filter(team__season=team.season_id, angler=angler)
            .exclude(team=team)
            .select_related("team")
            .first()
        )


class SquadMember(models.Model):
    """An angler in a team's squad for the season."""

    team = models.ForeignKey(Team, models.CASCADE, related_name="squad")
    angler = models.ForeignKey(Angler, models.CASCADE, related_name="squads")
    captain = models.BooleanField(default=False)

    objects = SquadMemberQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["team", "angler"],
                name="once_in_a_squad",
                violation_error_message="This angler is already in the squad.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.angler}, {self.team}"
