"""A result as people pass it on: text for a chat, a picture for a link preview."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from league.models import Result
from league.web import access
from league.web.pages.previews import picture_of
from league.web.pages.summary import summary as summary_of
from league.web.published import remembered, stamp
from league.web.validators import checked
from league.web.views.result import result_for


@require_safe
@access.for_readers
def summary(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The result in a few lines of plain text."""
    found = result_for(request, match_id, version)
    response = HttpResponse(_said(request, found), content_type="text/plain; charset=utf-8")
    return checked(request, response, public=found.match.club.public)


@require_safe
@access.for_readers
def share(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The same lines in a box to copy from, with what there is to subscribe to."""
    found = result_for(request, match_id, version)
    said = _said(request, found)
    context = {"result": found, "said": said, "rows": said.count("\n") + 1}
    return checked(
        request,
        render(request, "result/share.html", context),
        public=found.match.club.public,
    )


@require_safe
@access.for_readers
def bank(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The headline and the bank strip, 1200 by 630."""
    found = result_for(request, match_id, version)
    picture = remembered(f"picture {stamp(found)}", lambda: picture_of(found))
    return checked(
        request,
        HttpResponse(picture, content_type="image/png"),
        public=found.match.club.public,
    )


def _said(request: HttpRequest, result: Result) -> str:
    address = request.build_absolute_uri(
        reverse("result-version", args=[result.match_id, result.version])
    )
    version = f"summary {address} {stamp(result)} of {result.in_force}"
    said = remembered(version, lambda: summary_of(result, address, in_force=result.in_force))
    return str(said)
