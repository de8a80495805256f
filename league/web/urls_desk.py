"""Setting up: /desk/<slug>/ and what the match secretary makes there."""

from django.urls import URLPattern, URLResolver, path

from league.web.views import book, planning, seasons, squads

urlpatterns: list[URLPattern | URLResolver] = [
    path("seasons/", seasons.seasons, name="desk-seasons"),
    path("seasons/new/", seasons.new, name="desk-season-new"),
    path("seasons/<int:season_id>/", seasons.season, name="desk-season"),
    path("seasons/<int:season_id>/details/", seasons.details, name="desk-season-details"),
    path("seasons/<int:season_id>/teams/", seasons.teams, name="desk-teams"),
    path("seasons/<int:season_id>/teams/<int:team_id>/", squads.team, name="desk-team"),
    path(
        "seasons/<int:season_id>/teams/<int:team_id>/remove/",
        squads.remove,
        name="desk-team-remove",
    ),
    path("seasons/<int:season_id>/rounds/", seasons.rounds, name="desk-rounds"),
    path("seasons/<int:season_id>/rules/", book.rules, name="desk-rules"),
    path("matches/new/", planning.new, name="desk-match-new"),
    path("matches/<int:match_id>/when/", planning.when, name="desk-match-when"),
    path("matches/<int:match_id>/cancel/", planning.cancel, name="desk-match-cancel"),
]
