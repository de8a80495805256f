"""The page a phone weighs with, its worker and its manifest: nothing in them is anybody's."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator

from django.conf import settings
from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import HashedFilesMixin, staticfiles_storage
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_safe

from league.rules.weights import OUNCES_IN_POUND, Unit
from league.web.access import EVERYBODY, open_to
from league.web.forms.weigh import AT_THE_SCALES

WORKER_SCRIPTS = ("vendor/idb.js", "scales_queue.js", "scales_worker_core.js")
PAGE_SCRIPTS = (
    "vendor/idb.js",
    "scales_weights.js",
    "scales_guard.js",
    "scales_queue.js",
    "scales.js",
    "scales_ready.js",
    "scales_draw.js",
    "scales_screens.js",
    "scales_phone.js",
)
REST = (
    "theme.js",
    "tokens.css",
    "base.css",
    "bank.css",
    "pages.css",
    "scales.css",
    "scales_phone.css",
    "mark.svg",
    "icon-192.png",
    "icon-512.png",
    "fonts/literata-400-latin.woff2",
    "fonts/literata-600-latin.woff2",
    "fonts/archivo-narrow-400-latin.woff2",
    "fonts/archivo-narrow-600-latin.woff2",
    "fonts/archivo-narrow-700-latin.woff2",
)


@open_to(EVERYBODY)
@require_safe
@ensure_csrf_cookie  # so that somebody who is signed in can let this phone in
def phone(request: HttpRequest, match_id: int) -> HttpResponse:
    """
    The same page for everybody: the phone fills it from what it keeps, with signal or without.

    It holds no name and no weight, so that it can be kept on the phone and asks for no sign-in.
    """
    answer = render(
        request,
        "scales/phone.html",
        {
            "match_id": match_id,
            "scripts": [f"league/{name}" for name in PAGE_SCRIPTS],
            "ounces": range(OUNCES_IN_POUND),
            "pads": [{"unit": unit.value, "is_kg": unit is Unit.KG} for unit in Unit],
            "statuses": [status.value for status in AT_THE_SCALES],
            "shell": _shell(),
        },
    )
    # How the worker knows our page from the sign-in page of somebody else's network.
    answer["X-Drawbag-Page"] = "scales"
    answer["Cache-Control"] = "no-cache"
    return answer


@open_to(EVERYBODY)
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """The worker's script, with the files of this release by name."""
    shell = _shell()
    answer = render(
        request,
        "scales/worker.js",
        {
            "version": _version(shell),
            "files": settings.STATIC_URL,
            "shell": shell,
            "scripts": [_url(name) for name in WORKER_SCRIPTS],
        },
        content_type="text/javascript",
    )
    answer["Cache-Control"] = "no-cache"
    return answer


@open_to(EVERYBODY)
@require_safe
def manifest(request: HttpRequest, match_id: int) -> HttpResponse:
    """What a phone needs to keep the scales among its own programs."""
    page = reverse("scales-phone", args=[match_id])
    answer = JsonResponse(
        {
            "name": "Drawbag: the scales",
            "short_name": "Scales",
            "id": page,
            "start_url": page,
            "scope": reverse("scales", args=[match_id]),
            "display": "standalone",
            "background_color": "#F1F3EA",
            "theme_color": "#134650",
            "lang": "en-GB",
            "icons": [
                {"src": _url(f"icon-{size}.png"), "sizes": f"{size}x{size}", "type": "image/png"}
                for size in (192, 512)
            ],
        },
        content_type="application/manifest+json",
    )
    answer["Cache-Control"] = "no-cache"
    return answer


def _shell() -> list[str]:
    return sorted({_url(name) for name in (*PAGE_SCRIPTS, *WORKER_SCRIPTS, *REST)})


def _url(name: str) -> str:
    return static(f"league/{name}")


def _version(shell: list[str]) -> str:
    """One name a release: names with a hash in them say it; plain ones are read."""
    digest = hashlib.sha256("\n".join(shell).encode())
    if not isinstance(staticfiles_storage, HashedFilesMixin):
        for part in _contents():
            digest.update(part)
    return digest.hexdigest()[:12]


def _contents() -> Iterator[bytes]:
    for name in sorted({*PAGE_SCRIPTS, *WORKER_SCRIPTS, *REST}):
        if found := finders.find(f"league/{name}"):
            with open(found, "rb") as file:
                yield file.read()
