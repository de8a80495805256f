"""An entry: an angler in a match, for a team or alone, and the peg drawn."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import models
from django.db.models import Q

from league.models.matches import Match, MatchPeg, Section
from league.models.people import Angler
from league.models.seasons import Team


class EntryQuerySet(models.QuerySet["Entry"]):
    """Questions about entries."""

    def of(self, match: Match) -> EntryQuerySet:
        """Everybody booked in for *match* and not withdrawn before the draw."""
        return self.filter(match=match, withdrawn_at__isnull=True)

    def of_matches(self, matches: Iterable[Match]) -> EntryQuerySet:
        """The same for several matches at once, with every figure, in the order of the bank."""
        return self.filter(match__in=list(matches), withdrawn_at__isnull=True).with_figures()

    def who_is_where(self, match: Match) -> tuple[tuple[object, ...], ...]:
        """Everybody of *match* with team, section and peg, to see whether anything has moved."""
        found = self.filter(match=match).order_by("pk")
        return tuple(found.values_list("pk", "team", "section", "match_peg", "withdrawn_at"))

    def with_names(self) -> EntryQuerySet:
        """With everything a line prints."""
        return self.select_related("angler", "team", "section", "match_peg__peg")

    def in_peg_order(self) -> EntryQuerySet:
        """The order in which the scales walk the bank, with what each peg's line prints."""
        return (
            self.filter(match_peg__isnull=False)
            .with_names()
            .prefetch_related("weigh_ins__weighed_by")
            .order_by("match_peg__peg__order")
        )

    def with_figures(self) -> EntryQuerySet:
        """With what a result is worked out from, in peg order; who has no peg comes last."""
        return (
            self.with_names()
            .select_related("match_peg__section")
            .prefetch_related("weigh_ins")
            .order_by(models.F("match_peg__peg__order").asc(nulls_last=True), "number")
        )

    def of_team(self, team: Team) -> EntryQuerySet:
        """The members of *team*."""
        return self.filter(team=team).select_related("angler", "section")

    def together(self, team: Team, section: Section) -> EntryQuerySet:
        """The members of *team* in *section*."""
        return self.filter(team=team, section=section).select_related("angler")

    def sections_fished(self, matches: Iterable[Match]) -> list[tuple[int, str]]:
        """The angler and the section's letter of everybody with a peg in *matches*."""
        found = self.filter(match__in=list(matches), match_peg__isnull=False, section__isnull=False)
        return list(found.values_list("angler", "section__letter"))

    def pegs_had(self, matches: Iterable[Match]) -> list[tuple[int, int | None, int]]:
        """The angler, the team's key and the peg of the match of everybody who drew one."""
        found = self.filter(match__in=list(matches), match_peg__isnull=False)
        return list(found.values_list("angler", "team", "match_peg"))

    def placed(self) -> EntryQuerySet:
        """Those whose section is known."""
        return self.filter(section__isnull=False).select_related("section")

    def locked(self, pk: int) -> Entry:
        """The entry, held until the transaction ends, with what an act on it asks about."""
        return (
            self.select_for_update(of=("self",))
            .select_related("match__club", "angler", "team", "match_peg__peg", "match_peg__section")
            .get(pk=pk)
        )

    def locked_in(self, match_id: int, pk: int) -> Entry | None:
        """
        The same, if it is an entry of that match; names are asked for only where something is said.

        Thirty phones may send at once, and putting a question costs more than answering it.
        """
        found = self.select_for_update(of=("self",)).filter(match=match_id, pk=pk)
        return found.select_related("match", "match_peg__peg").order_by().first()

    def alone(self, match: Match) -> EntryQuerySet:
        """Everybody booked in for *match* for themselves and not for a team."""
        return self.of(match).filter(team__isnull=True)

    def clashing(self, one: Angler, other: Angler) -> EntryQuerySet:
        """Entries of *other* in matches that *one* is booked in for too."""
        matches = self.filter(angler=one, withdrawn_at__isnull=True).values("match")
        return self.filter(
            angler=other, withdrawn_at__isnull=True, match__in=matches
        ).select_related("match")

    def every_one_of(self, angler: Angler) -> EntryQuerySet:
        """Every entry of *angler*, withdrawn or not, newest match first."""
        return (
            self.filter(angler=angler)
            .select_related("match__water", "match__season__league", "team", "section")
            .select_related("match_peg__peg")
            .prefetch_related("weigh_ins", "decisions")
            .order_by("-match__date", "-pk")
        )

    def fishing(self, angler: Angler) -> EntryQuerySet:
        """The entry of *angler*."""
        return self.filter(angler=angler)

    def in_section(self, section: Section) -> EntryQuerySet:
        """Everybody in *section*."""
        return self.filter(section=section).select_related("angler")

    def on_peg(self, match_peg: MatchPeg) -> Entry | None:
        """Who has *match_peg*."""
        return self.filter(match_peg=match_peg).select_related("angler").first()

    def all_locked(self, match: Match) -> EntryQuerySet:
        """Everybody of *match*, held until the transaction ends, in the order of the numbers."""
        return (
            self.filter(match=match, withdrawn_at__isnull=True)
            .select_for_update(of=("self",))
            .select_related("angler", "team", "section", "match_peg__peg")
            .order_by("number")
        )

    def weighed(self) -> EntryQuerySet:
        """Those with a figure, set aside or not."""
        return self.filter(weigh_ins__isnull=False).distinct()

    def next_number(self, match: Match) -> int:
        """The next number on the draw sheet; withdrawn entries keep theirs."""
        last: int | None = self.filter(match=match).aggregate(last=models.Max("number"))["last"]
        return (last or 0) + 1

    def in_booking_order(self) -> EntryQuerySet:
        """The order of booking, which is the order of the draw sheet."""
        return self.with_names().order_by("number")

    def fished_by(self, angler: Angler) -> EntryQuerySet:
        """Where *angler* has fished, newest first."""
        return (
            self.filter(angler=angler, match_peg__isnull=False)
            .select_related("match__water", "match__season__league", "match_peg__peg", "section")
            .order_by("-match__date")
        )


class Entry(models.Model):
    """An angler in a match."""

    match = models.ForeignKey(Match, models.CASCADE, related_name="entries")
    number = models.PositiveIntegerField(help_text="Its number on the draw sheet.")
    angler = models.ForeignKey(Angler, models.PROTECT, related_name="entries")
    team = models.ForeignKey(Team, models.PROTECT, null=True, blank=True, related_name="entries")
    section = models.ForeignKey(
        Section, models.SET_NULL, null=True, blank=True, related_name="entries"
    )
    match_peg = models.ForeignKey(
        MatchPeg, models.SET_NULL, null=True, blank=True, related_name="entries"
    )
    easy_access = models.BooleanField(default=False)
    reserve = models.BooleanField(default=False, help_text="Came in as a reserve.")
    # Set where a section takes one member of a team, so that the database can hold it.
    alone_in_section = models.BooleanField(default=False)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    rang_in = models.CharField(
        max_length=80, blank=True, help_text="What they said on the morning: late, about 08:45."
    )

    objects = EntryQuerySet.as_manager()

    class Meta:
        verbose_name_plural = "entries"
        constraints = [
            models.UniqueConstraint(
                fields=["match", "angler"],
                condition=Q(withdrawn_at__isnull=True),
                name="one_entry_an_angler",
                violation_error_message="This angler is already booked in.",
            ),
            models.UniqueConstraint(
                fields=["match", "number"],
                name="one_entry_a_number",
                violation_error_message="Another entry has this number.",
            ),
            models.UniqueConstraint(
                fields=["match_peg"],
                condition=Q(withdrawn_at__isnull=True),
                name="one_angler_a_peg",
                violation_error_message="Somebody else has drawn this peg.",
            ),
            models.UniqueConstraint(
                fields=["match", "section", "team"],
                condition=Q(alone_in_section=True, withdrawn_at__isnull=True),
                name="one_of_a_team_in_a_section",
                violation_error_message="The team already has a member in this section.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.angler}"
