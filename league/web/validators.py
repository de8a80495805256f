"""Answers that are made anew each time and yet need not be sent twice: ETag and "not changed"."""

from __future__ import annotations

import hashlib

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_cache_control, patch_vary_headers


def checked(request: HttpRequest, response: HttpResponse, *, public: bool) -> HttpResponse:
    """
    Mark *response* with what it holds, and send it only to whoever has not got it.

    Weak, because the same answer goes out as it is or packed small. What a club shows to members
    alone is kept by no one between.
    """
    patch_vary_headers(response, ["Cookie"])
    patch_cache_control(response, no_cache=True, **({} if public else {"private": True}))
    if response.status_code != 200:
        return response
    response["ETag"] = f'W/"{hashlib.sha256(response.content).hexdigest()[:40]}"'
    found = get_conditional_response(request, etag=response["ETag"], response=response)
    return found if found is not None else response
