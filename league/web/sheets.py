"""From a published result or table to the sheet that prints it."""

from __future__ import annotations

from django.http import Http404, HttpRequest

from league.models import Result, Season


def result_sheet(request: HttpRequest, result: Result) -> bytes:
    """The results sheet of one version."""
    raise Http404("The sheet is not there yet.")


def table_sheet(request: HttpRequest, season: Season) -> bytes:
    """The league table on paper."""
    raise Http404("The sheet is not there yet.")
