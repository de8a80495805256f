"""Pages of teams, waters and records, and their files."""

from collections.abc import Callable
from typing import Any

from django.http import HttpResponse
from django.urls import URLPattern, path

from league.web.views import angler, records, shared, teams, waters


def files(route: str, view: Callable[..., HttpResponse], name: str) -> list[URLPattern]:
    """A table's two files: as CSV for a spreadsheet, as JSON for a program."""
    endings: list[dict[str, Any]] = [{"ending": "csv"}, {"ending": "json"}]
    return [
        path(f"{route}.{each['ending']}", view, each, name=f"{name}-{each['ending']}")
        for each in endings
    ]


urlpatterns: list[URLPattern] = [
    path("teams/<int:team_id>/", teams.team, name="team"),
    *files("teams/<int:team_id>/rounds", teams.rounds_file, "team"),
    path("tables/<int:season_id>/head-to-head/", teams.head_to_head, name="head-to-head"),
    *files("tables/<int:season_id>/head-to-head/meetings", teams.head_to_head_file, "head-to-head"),
    *files("matches/<int:match_id>/result/<int:version>/teams", shared.teams_file, "result-teams"),
    *files(
        "matches/<int:match_id>/result/<int:version>/by-weight",
        shared.everybody_file,
        "result-by-weight",
    ),
    *files("tables/<int:season_id>/anglers/table", shared.anglers_table_file, "table-anglers"),
    path("records/", records.records, name="records"),
    path("clubs/<slug:slug>/records/", records.records, name="records"),
    *files("clubs/<slug:slug>/records/weights", records.weights_file, "record-weights"),
    *files("clubs/<slug:slug>/records/teams", records.teams_file, "record-teams"),
    *files("clubs/<slug:slug>/records/wins", records.wins_file, "record-wins"),
    *files("clubs/<slug:slug>/anglers", records.anglers_file, "anglers"),
    *files("anglers/<int:angler_id>/matches", angler.outings_file, "angler"),
    path("waters/", waters.waters, name="waters"),
    path("clubs/<slug:slug>/waters/", waters.waters, name="waters"),
    path("waters/<int:water_id>/", waters.water, name="water"),
    *files("waters/<int:water_id>/pegs", waters.pegs_file, "water"),
]
