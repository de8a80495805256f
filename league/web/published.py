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
from django.contrib.messages import get_messages
from django.core.cache import cache
from django.db.models import prefetch_related_objects
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils.cache import get_conditional_response, patch_cache_control, patch_vary_headers
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import compress_string

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
    if not _is_any_stranger(request):
        return _for_one_reader(request, seal, page)
    sealed = getattr(request, "sealed", None) or seal()
    if sealed is None:
        return _private(page())
    key = _key(f"{_address(request)} {sealed}")
    etag = _etag(key)
    response = get_conditional_response(request, etag=etag) or _kept_page(request, key, page)
    response["ETag"] = etag
    response["Cache-Control"] = "no-cache"
    response["Vary"] = "Cookie, Accept-Encoding"
    if response.status_code == 200:
        response.kept_as = key, seal  # type: ignore[attr-defined]
    return response


def _kept_page(request: HttpRequest, key: str, page: Callable[[], HttpResponse]) -> HttpResponse:
    packed = _is_packed(request)
    content = cache.get(f"{key}-gzip" if packed else key)
    if content is None:
        plain = page().content
        content = gzip.compress(plain, mtime=0) if packed else plain
        cache.set(f"{key}-gzip" if packed else key, content, FOR_EVER)
    return HttpResponse(content, headers={"Content-Encoding": "gzip"} if packed else {})


def _for_one_reader(
    request: HttpRequest,
    seal: Callable[[], tuple[object, ...] | None],
    page: Callable[[], HttpResponse],
) -> HttpResponse:
    """
    A page in somebody's own head: packed, and not sent again to who has it.

    It is packed because nothing of the request is said back on it, and the one secret in it, the
    form's token, is masked anew each time: what a reader of lengths would need (BREACH) is not
    there. A few random bytes go in besides. The validator names the reader, the offices and the
    token's cookie, for the head is made of them; the token in a page that was kept stays good as
    long as that cookie does.
    """
    sealed = seal()
    if sealed is None or len(get_messages(request)):
        return _private(page())
    user = request.user
    if user.is_authenticated:
        prefetch_related_objects([user], "offices")  # the page's head asks for them again
    offices = sorted(each.pk for each in user.offices.all()) if user.is_authenticated else []
    token = request.COOKIES.get(settings.CSRF_COOKIE_NAME, "")
    etag = _etag(_key(f"{_address(request)} {sealed} {user.pk} {offices} {token}"))
    response = get_conditional_response(request, etag=etag)
    if response is None:
        response = page()
        if _is_packed(request) and response.status_code == 200:
            response.content = compress_string(response.content, max_random_bytes=100)
            response["Content-Encoding"] = "gzip"
    response["ETag"] = etag
    _private(response)
    patch_vary_headers(response, ["Accept-Encoding"])
    return response


def _private(response: HttpResponse) -> HttpResponse:
    patch_cache_control(response, private=True, no_cache=True)
    patch_vary_headers(response, ["Cookie"])
    return response


def kept_first(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[..., HttpResponse]:
    """
    Middleware: a stranger's kept page goes out before anything else is asked.

    The seal is asked for each time, so that nothing is shown that has changed, been corrected or
    become private. What stands further in, sessions and forms and the policy of what a page may
    load, was asked when the page was kept, and its headers were kept with it.
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        address = request.method == "GET" and _is_any_stranger(request) and _address(request)
        seal = _seals.get(address) if address else None
        if seal is not None and (sealed := seal()) is not None:
            key = _key(f"{address} {sealed}")
            if (answer := _answer(request, key)) is not None:
                return answer
            request.sealed = sealed  # type: ignore[attr-defined]
        response = get_response(request)
        if address and hasattr(response, "kept_as") and not response.cookies:
            key, seal = response.kept_as
            if len(_seals) >= MOST_SEALS:
                _seals.clear()
            _seals[address] = seal
            headers = {name: response[name] for name in response.headers if name not in OF_A_BODY}
            cache.set(f"{key}-headers", headers, FOR_EVER)
        return response

    return middleware


# How to ask whether a page has changed, by its whole address; each process learns them anew.
_seals: dict[str, Callable[[], tuple[object, ...] | None]] = {}
MOST_SEALS = 4096
_MESSAGES = getattr(settings, "MESSAGES_COOKIE", "messages")
OF_A_BODY = {"Content-Length", "Content-Encoding"}


def _answer(request: HttpRequest, key: str) -> HttpResponse | None:
    """The page kept as *key*, whole or as not changed; None where any of it is not kept."""
    headers = cache.get(f"{key}-headers")
    if headers is None:
        return None
    if "If-None-Match" in request.headers:
        response = get_conditional_response(request, etag=_etag(key))
        if response is not None:
            for name, value in headers.items():
                if name != "Content-Type":
                    response[name] = value
            return response
    packed = _is_packed(request)
    content = cache.get(f"{key}-gzip" if packed else key)
    if content is None:
        return None
    response = HttpResponse(content, headers=headers)
    response["Content-Length"] = str(len(content))
    if packed:
        response["Content-Encoding"] = "gzip"
    return response


def _is_packed(request: HttpRequest) -> bool:
    return "gzip" in request.headers.get("Accept-Encoding", "")


def _etag(key: str) -> str:
    """Weak: the same page goes out as it is or packed small."""
    return f'W/"{key}"'


def _address(request: HttpRequest) -> str:
    """The whole address: the head of a page names it, so that two hosts have two pages."""
    return f"{request.scheme}://{request.get_host()}{request.path}"


def _is_any_stranger(request: HttpRequest) -> bool:
    """Whether the page is the same for them as for every other stranger: no session, no message."""
    cookies = request.COOKIES
    return settings.SESSION_COOKIE_NAME not in cookies and settings.MESSAGES_COOKIE not in cookies


def _key(version: str) -> str:
    return hashlib.sha256(f"{RELEASE} {version}".encode()).hexdigest()[:40]
