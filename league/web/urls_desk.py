"""Setting up: /desk/<slug>/ and what the match secretary makes there."""

from django.urls import URLPattern, URLResolver, path

from league.web.views import all_line_ups, book, club, planning, seasons, squads, venues

urlpatterns: list[URLPattern | URLResolver] = [
    path("club/", club.club, name="desk-club"),
    path("seasons/", seasons.seasons, name="desk-seasons"),
    path("seasons/new/", seasons.new, name="desk-season-new"),
    path("seasons/<int:season_id>/", seasons.season, name="desk-season"),
    path("seasons/<int:season_id>/take-out/", seasons.remove, name="desk-season-remove"),
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
    path("waters/", venues.waters, name="desk-waters"),
    path("waters/new/", venues.new, name="desk-water-new"),
    path("waters/look/", venues.look, name="desk-water-look"),
    path("waters/<int:water_id>/", venues.water, name="desk-water"),
    path("waters/<int:water_id>/bank/", venues.bank, name="desk-water-bank"),
    path("waters/<int:water_id>/out/", venues.out, name="desk-water-out"),
    path("waters/<int:water_id>/back/", venues.back, name="desk-water-back"),
    path("waters/<int:water_id>/about/", venues.about, name="desk-water-about"),
    path("waters/<int:water_id>/venue/", venues.venue, name="desk-water-venue"),
    path("matches/new/", planning.new, name="desk-match-new"),
    path("matches/<int:match_id>/line-ups/", all_line_ups.line_ups, name="desk-line-ups"),
    path(
        "matches/<int:match_id>/usual-sections/",
        planning.usual_sections,
        name="desk-usual-sections",
    ),
    path("matches/<int:match_id>/when/", planning.when, name="desk-match-when"),
    path("matches/<int:match_id>/cancel/", planning.cancel, name="desk-match-cancel"),
]
