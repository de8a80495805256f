"""People and scenes for the acts."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.models import Act, Club
from tests.factories import UserFactory


@pytest.fixture
def sam(club: Club) -> User:
    """The match secretary, by whom everything is done."""
    user: User = UserFactory(username="sam")
    return user


@pytest.fixture
def journal(club: Club) -> Callable[[], list[str]]:
    """What the club's journal says, oldest first."""
    return lambda: [act.what for act in Act.objects.of(club).order_by("pk")]
