"""One factory a table; what a test does not care about is filled in."""

from __future__ import annotations

import datetime as dt

import factory
from django.contrib.auth import get_user_model
from factory.django import DjangoModelFactory

from league import models


class UserFactory(DjangoModelFactory):
    class Meta:
        model = get_user_model()
        skip_postgeneration_save = True

    username = factory.Sequence(lambda n: f"user{n}")


class ClubFactory(DjangoModelFactory):
    class Meta:
        model = models.Club

    name = factory.Sequence(lambda n: f"Club {n}")
    slug = factory.Sequence(lambda n: f"club-{n}")


class AnglerFactory(DjangoModelFactory):
    class Meta:
        model = models.Angler

    club = factory.SubFactory(ClubFactory)
    name = factory.Sequence(lambda n: f"Angler Number{n}")


class VenueFactory(DjangoModelFactory):
    class Meta:
        model = models.Venue

    club = factory.SubFactory(ClubFactory)
    name = factory.Sequence(lambda n: f"Venue {n}")


class WaterFactory(DjangoModelFactory):
    class Meta:
        model = models.Water

    venue = factory.SubFactory(VenueFactory)
    name = factory.Sequence(lambda n: f"Water {n}")


class PegFactory(DjangoModelFactory):
    class Meta:
        model = models.Peg

    water = factory.SubFactory(WaterFactory)
    order = factory.Sequence(lambda n: n + 1)
    number = factory.LazyAttribute(lambda peg: str(peg.order))


class LeagueFactory(DjangoModelFactory):
    class Meta:
        model = models.League

    club = factory.SubFactory(ClubFactory)
    name = factory.Sequence(lambda n: f"League {n}")
    slug = factory.Sequence(lambda n: f"league-{n}")


class SeasonFactory(DjangoModelFactory):
    class Meta:
        model = models.Season

    league = factory.SubFactory(LeagueFactory)
    name = "2026–27"
    slug = factory.Sequence(lambda n: f"season-{n}")
    starts = dt.date(2026, 10, 4)


class TeamFactory(DjangoModelFactory):
    class Meta:
        model = models.Team

    season = factory.SubFactory(SeasonFactory)
    name = factory.Sequence(lambda n: f"Team {n}")
    code = factory.Sequence(lambda n: f"T{n}")


class MatchFactory(DjangoModelFactory):
    class Meta:
        model = models.Match

    club = factory.SubFactory(ClubFactory)
    water = factory.SubFactory(
        WaterFactory, venue=factory.SubFactory(VenueFactory, club=factory.SelfAttribute("...club"))
    )
    date = dt.date(2027, 1, 24)
    all_in = dt.time(10)
    all_out = dt.time(15)


class SectionFactory(DjangoModelFactory):
    class Meta:
        model = models.Section

    match = factory.SubFactory(MatchFactory)
    order = factory.Sequence(lambda n: n)
    letter = "A"


class MatchPegFactory(DjangoModelFactory):
    class Meta:
        model = models.MatchPeg


class EntryFactory(DjangoModelFactory):
    class Meta:
        model = models.Entry

    match = factory.SubFactory(MatchFactory)
    number = factory.Sequence(lambda n: n + 1)
    angler = factory.SubFactory(AnglerFactory, club=factory.SelfAttribute("..match.club"))


class WeighInFactory(DjangoModelFactory):
    class Meta:
        model = models.WeighIn

    key = factory.Faker("uuid4")
    status = "weighed"
    received_at = dt.datetime(2027, 1, 24, 15, 30, tzinfo=dt.UTC)


class OfficeFactory(DjangoModelFactory):
    class Meta:
        model = models.Office
