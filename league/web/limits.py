"""How much one request may bring."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse

View = Callable[[HttpRequest], HttpResponse]
GREATEST = 2**63 - 1  # that a database takes for a number


def refuse_too_much(view: View) -> View:
    """Refuse a body that is larger than anything the site takes, before a byte of it is read."""

    def wrapped(request: HttpRequest) -> HttpResponse:
        length = request.META.get("CONTENT_LENGTH") or "0"
        if not length.isdecimal() or int(length) > settings.MOST_BYTES:
            return HttpResponse(
                f"That is too much at once: {settings.MOST_BYTES // 1024**2} MB at most. Take a "
                "smaller file.\n",
                content_type="text/plain; charset=utf-8",
                status=413,
            )
        return view(request)

    return wrapped


def refuse_too_great(view: View) -> View:
    """Say that nothing is there of an address with a number in it that no database can hold."""

    def wrapped(request: HttpRequest) -> HttpResponse:
        return view(request)

    def look(request: HttpRequest, found: Any, args: Any, named: Mapping[str, Any]) -> None:
        if any(isinstance(each, int) and each > GREATEST for each in named.values()):
            raise Http404("There is no such number.")

    wrapped.process_view = look  # type: ignore[attr-defined]
    return wrapped
