"""Under /api/1/: every answer with its validator, every refusal as JSON."""

from __future__ import annotations

from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import URLPattern, include, path

from league.web import access
from league.web.api.routes import api
from league.web.validators import checked


def _answered(view: Any) -> Any:
    @wraps(view)
    def wrapped(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if request.method == "HEAD":  # what is read may be asked for without its body
            request.method = "GET"
        response = view(request, *args, **kwargs)
        if response.status_code == 405:
            return _only_read(response)
        return checked(request, response, public=not request.user.is_authenticated)

    return access.open_to(access.READERS)(wrapped)


def _only_read(response: HttpResponse) -> HttpResponse:
    refused = JsonResponse({"detail": "This can only be read: ask with GET."}, status=405)
    refused["Allow"] = f"{response['Allow']}, HEAD"
    return refused


@access.open_to(access.EVERYBODY)
def nothing_here(request: HttpRequest, rest: str) -> HttpResponse:
    """An address that never was."""
    words = "There is nothing here. The addresses are described in /api/1/openapi.json."
    return JsonResponse({"detail": words}, status=404)


_patterns, _app, _namespace = api.urls
_ours: list[URLPattern] = [
    path(str(each.pattern), _answered(each.callback), name=each.name) for each in _patterns
]

urlpatterns = [
    path("", include((_ours, _app), namespace=_namespace)),
    path("<path:rest>", nothing_here, name="api-nothing"),
]
