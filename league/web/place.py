"""Where a request comes from, as far as it can be known."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest


def place_of(request: HttpRequest | None) -> str:
    """
    The address that asks.

    Behind the proxy that brings https it is the last one that the proxy added; what a stranger
    writes into the header before it is not believed.
    """
    if request is None:
        return ""
    if settings.SECURE_PROXY_SSL_HEADER:
        forwarded = request.headers.get("X-Forwarded-For", "").rpartition(",")[2].strip()
        if forwarded:
            return str(forwarded)
    return str(request.META.get("REMOTE_ADDR", ""))
