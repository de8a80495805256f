"""Pages for strangers go out packed. See published.py for those of who is signed in."""

from __future__ import annotations

import gzip
from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers

from league.web.access import READERS

LEAST = 800  # bytes: less is one packet as it is
LEVEL = 5  # nearly as small as the best, in half the time
KINDS = (
    "text/",
    "application/json",
    "application/atom+xml",
    "application/manifest+json",
    "image/svg",
)


def pack_for_strangers(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """
    Middleware: pack what is the same for every stranger.

    Nothing else: where a page holds a secret beside words of the request, the length of what is
    packed would tell it (BREACH). What a club shows to its readers holds none without a session;
    pages with a form's token, a phone's or a secret in their address say that they are for others.
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        if not _may_be_packed(request, response):
            return response
        patch_vary_headers(response, ["Accept-Encoding"])
        if "gzip" not in request.headers.get("Accept-Encoding", ""):
            return response
        response.content = gzip.compress(response.content, LEVEL, mtime=0)
        response["Content-Encoding"] = "gzip"
        response["Content-Length"] = str(len(response.content))
        etag = response.get("ETag", "")
        if etag.startswith('"'):
            response["ETag"] = f"W/{etag}"
        return response

    return middleware


def _may_be_packed(request: HttpRequest, response: HttpResponse) -> bool:
    match = request.resolver_match
    return (
        READERS in getattr(match.func if match else None, "open_to", ())
        and settings.SESSION_COOKIE_NAME not in request.COOKIES
        and not response.cookies
        and not response.streaming
        and response.status_code == 200
        and "Content-Encoding" not in response.headers
        and response.get("Content-Type", "").startswith(KINDS)
        and len(response.content) >= LEAST
    )
