"""Addresses for people's own programs: calendars, feeds, summaries."""

from django.urls import URLPattern, path

from league.web.views import feeds, shared

urlpatterns: list[URLPattern] = [
    path("clubs/<slug:slug>/programs/", feeds.programs, name="programs"),
    path("clubs/<slug:slug>/matches.ics", feeds.club_calendar, name="club-calendar"),
    path("clubs/<slug:slug>/results.atom", feeds.club_results, name="club-feed"),
    path("leagues/<int:league_id>/matches.ics", feeds.league_calendar, name="league-calendar"),
    path("leagues/<int:league_id>/results.atom", feeds.league_results, name="league-feed"),
    path("teams/<int:team_id>/matches.ics", feeds.team_calendar, name="team-calendar"),
    path(
        "matches/<int:match_id>/result/<int:version>/summary.txt",
        shared.summary,
        name="result-summary",
    ),
    path(
        "matches/<int:match_id>/result/<int:version>/bank.png", shared.bank, name="result-picture"
    ),
    path("matches/<int:match_id>/result/<int:version>/share/", shared.share, name="result-share"),
]
