"""How much one request may bring."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

View = Callable[[HttpRequest], HttpResponse]


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
