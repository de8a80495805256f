"""How many made-up cases a law is tried on: a few at the desk, thousands in CI."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

from tests.tools import IN_CI


def tried(usual: int, in_ci: int) -> settings:
    """Settings for a law tried on *usual* cases, *in_ci* of them where time is no matter."""
    return settings(
        max_examples=in_ci if IN_CI else usual,
        deadline=None,  # a busy machine is no fault of the rules
        database=None,
        suppress_health_check=[HealthCheck.too_slow],
    )
