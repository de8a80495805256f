"""Start-up checks in words: what a new server still lacks before it may serve anybody."""

from collections.abc import Sequence
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.exceptions import ImproperlyConfigured


@register(Tags.security)
def secrets_are_set(app_configs: Sequence[Any] | None, **kwargs: Any) -> list[CheckMessage]:
    """Refuse to start without the two keys: sign-ins hang on one, sealed draws on the other."""
    missing = []
    try:
        settings.SECRET_KEY  # noqa: B018  Django raises when it is empty
    except ImproperlyConfigured:
        missing.append(
            Error(
                "DRAWBAG_SECRET_KEY is not set.",
                hint="Set it to fifty random characters and keep it secret; "
                "`python manage.py demo` makes one for a trial.",
                id="league.E001",
            )
        )
    if not settings.DRAW_KEY:
        missing.append(
            Error(
                "DRAWBAG_DRAW_KEY is not set.",
                hint="It seals the secret number of a draw until the numbers are called. Set it to "
                "fifty random characters, other than DRAWBAG_SECRET_KEY.",
                id="league.E002",
            )
        )
    return missing
