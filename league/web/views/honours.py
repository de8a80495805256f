"""The season's end, read out: champions, places, best weights."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.models import Season
from league.web import access
from league.web.context import at_club
from league.web.pages import honours as page
from league.web.pages.standings import rules_url, table_stamp
from league.web.published import for_every_stranger, kept


@require_safe
@access.for_readers
def honours(request: HttpRequest, season_id: int) -> HttpResponse:
    """The honours as the published results make them."""
    return for_every_stranger(
        request,
        lambda: Season.objects.seal(season_id),
        lambda: _page(request, season_id),
    )


def _page(request: HttpRequest, season_id: int) -> HttpResponse:
    season = access.season_for(request.user, season_id)
    at_club(request, season.league.club)
    matter = kept(
        "table/_honours.html", f"honours {table_stamp(season)}", lambda: page.matter(season)
    )
    context = {"matter": matter, "title": f"{season}: honours", "rules_url": rules_url(season)}
    return render(request, "table/table.html", context)
