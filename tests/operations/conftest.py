"""People and scenes for the acts."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.models import Act, Club, DrawEvent, Match
from league.operations.draw import begin, freeze, seal
from league.operations.lineup import book_in
from tests.builders import make_match, make_season
from tests.factories import AnglerFactory, UserFactory
from tests.operations.draw_scene import SECRET


@pytest.fixture
def sam(club: Club) -> User:
    """The match secretary, by whom everything is done."""
    user: User = UserFactory(username="sam")
    return user


@pytest.fixture
def journal(club: Club) -> Callable[[], list[str]]:
    """What the club's journal says, oldest first."""
    return lambda: [act.what for act in Act.objects.of(club).order_by("pk")]


@pytest.fixture
def match(club: Club, sam: User) -> Match:
    """Two teams, one in each of two sections of three pegs; entries 1 to 4."""
    season = make_season(club, teams=["Old Quarry", "Tannery Lane"])
    match = make_match(season=season, sections={"A": 3, "B": 3}, drawn=False)
    for section in match.sections.all():
        for team in season.teams.order_by("name"):
            book_in(match, AnglerFactory(club=club), team=team, section=section, by=sam)
    return match


@pytest.fixture
def begun(match: Match, sam: User) -> DrawEvent:
    seal(match, by=sam, secret=SECRET)
    freeze(match, callers=[1, 4], by=sam)
    return begin(match, by=sam)
