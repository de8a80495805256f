"""
Published pages: made once for a version, then answered as kept, or with "not changed".

What a stranger reads is the same for every stranger and is kept whole. Somebody signed in gets the
same matter inside a head of their own, which is never kept.
"""

from __future__ import annotations

import gzip
import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils.cache import get_conditional_response, patch_cache_control, patch_vary_headers
from django.utils.safestring import SafeString, mark_safe

from league.models import Result

FOR_EVER = None  # a key names a version; a newer one has another key


def _release() -> str:
    """When the newest file of the program was made: a new release shows in every validator."""
    files = [
        path
        for folder in (settings.BASE_DIR / "templates", settings.BASE_DIR / "league")
        for path in Path(folder).rglob("*")
        if path.suffix in {".py", ".html", ".css", ".js"}
    ]
    return str(max((path.stat().st_mtime_ns for path in files), default=0))


RELEASE = _release()


def kept(template: str, version: str, matter: Callable[[], dict[str, Any]]) -> SafeString:
    """
    A piece of a page, made once for its *version* and the same for everybody.

    *version* names everything it is made of: whatever can change it must be in it. *matter* gives
    the template's context, and is asked for only where nothing is kept.
    """
    made = cache.get_or_set(
        _key(f"{template} {version}"), lambda: render_to_string(template, matter()), FOR_EVER
    )
    return mark_safe(made)  # noqa: S308 -- made by our own template, which escapes


def remembered(version: str, make: Callable[[], Any]) -> Any:
    """What was worked out once for its *version*."""
    return cache.get_or_set(_key(version), make, FOR_EVER)


def stamp(result: Result) -> str:
    """
    What tells one state of a published version from every other.

    Its time is in it: after a backup is restored, a number may come back with another result.
    """
    last = f"{result.final_at} {result.names_at} {result.match.objected_at}"
    return f"{result.pk} {result.version} {result.published_at.timestamp()} {last}"


def for_every_stranger(
    request: HttpRequest,
    seal: Callable[[], tuple[object, ...] | None],
    page: Callable[[], HttpResponse],
) -> HttpResponse:
    """
    Answer a stranger with the page as kept, or with "not changed"; anybody else with *page*.

    *seal* asks for everything the whole page hangs on; None means that strangers have no such
    page, and *page* says so.
    """
    sealed = seal() if _is_any_stranger(request) else None
    if sealed is None:
        response = page()
        patch_cache_control(response, private=True, no_cache=True)
        patch_vary_headers(response, ["Cookie"])
        return response
    # The head of a page names its own address in full: two hosts have two pages.
    key = _key(f"{request.build_absolute_uri(request.path)} {sealed}")
    # Weak: the same page goes out as it is or packed small.
    etag = f'W/"{key}"'
    response = get_conditional_response(request, etag=etag) or _kept_page(request, key, page)
    response["ETag"] = etag
    response["Cache-Control"] = "no-cache"
    response["Vary"] = "Cookie, Accept-Encoding"
    return response


def _kept_page(request: HttpRequest, key: str, page: Callable[[], HttpResponse]) -> HttpResponse:
    content = cache.get_or_set(key, lambda: page().content, FOR_EVER)
    if "gzip" not in request.headers.get("Accept-Encoding", ""):
        return HttpResponse(content)
    packed = cache.get_or_set(f"{key}-gzip", lambda: gzip.compress(content, mtime=0), FOR_EVER)
    return HttpResponse(packed, headers={"Content-Encoding": "gzip"})


def _is_any_stranger(request: HttpRequest) -> bool:
    """Whether the page is the same for them as for every other stranger: no session, no message."""
    cookies = request.COOKIES
    return settings.SESSION_COOKIE_NAME not in cookies and "messages" not in cookies


def _key(version: str) -> str:
    return hashlib.sha256(f"{RELEASE} {version}".encode()).hexdigest()[:40]
