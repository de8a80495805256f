"""
Published pages: made once for a version, then answered as kept, or with "not changed".

What a stranger reads is the same for every stranger and is kept whole. Somebody signed in gets the
same matter inside a head of their own, which is never kept.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.cache import get_conditional_response, patch_cache_control, patch_vary_headers
from django.utils.http import quote_etag
from django.utils.safestring import SafeString, mark_safe

from league.models import Result
from league.web.context import club_of

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


def kept(version: str, make: Callable[[], str]) -> SafeString:
    """A piece of a page, made once for its *version* and the same for everybody."""
    return mark_safe(cache.get_or_set(_key(version), make, FOR_EVER))  # noqa: S308 -- from templates


def remembered(version: str, make: Callable[[], Any]) -> Any:
    """What was worked out once for its *version*."""
    return cache.get_or_set(_key(version), make, FOR_EVER)


def stamp(result: Result) -> str:
    """
    What tells one state of a published version from every other.

    Its time is in it: after a backup is restored, a number may come back with another result.
    """
    return f"{result.pk} {result.version} {result.published_at.timestamp()} {result.final_at}"


def published(
    request: HttpRequest,
    template: str,
    *,
    version: str,
    matter: Callable[[], dict[str, Any]],
    **head: Any,
) -> HttpResponse:
    """
    Answer with the page *template*; its matter is the fragment of the same name with a `_`.

    *version* names everything the matter is made of: whatever can change it must be in it.
    *matter* gives the fragment's context, and is asked for only where nothing is kept. *head* is
    what the page round it needs.
    """
    fragment = template.replace("/", "/_", 1)

    def made() -> str:
        return render_to_string(fragment, matter())

    def page() -> HttpResponse:
        return render(request, template, {**head, "matter": kept(f"{fragment} {version}", made)})

    if not _is_any_stranger(request):
        response = page()
        patch_cache_control(response, private=True, no_cache=True)
        patch_vary_headers(response, ["Cookie"])
        return response
    key = _key(f"{template} {request.path} {club_of(request)} {sorted(head.items())} {version}")
    etag = quote_etag(key)
    unchanged: HttpResponse | None = get_conditional_response(request, etag=etag)
    response = unchanged or HttpResponse(
        cache.get_or_set(f"page-{key}", lambda: page().content, FOR_EVER)
    )
    response["ETag"] = etag
    patch_cache_control(response, no_cache=True)
    patch_vary_headers(response, ["Cookie"])
    return response


def _is_any_stranger(request: HttpRequest) -> bool:
    """Whether the page is the same for them as for every other stranger: no session, no message."""
    cookies = request.COOKIES
    return settings.SESSION_COOKIE_NAME not in cookies and "messages" not in cookies


def _key(version: str) -> str:
    return hashlib.sha256(f"{RELEASE} {version}".encode()).hexdigest()[:40]
