"""Where a sentence waits between an act and the next page: in a cookie of our own host."""

from __future__ import annotations

from django.conf import settings
from django.contrib.messages.storage.cookie import CookieStorage


class Said(CookieStorage):
    """Signed, for no script, and behind https for this host alone."""

    cookie_name = settings.MESSAGES_COOKIE
