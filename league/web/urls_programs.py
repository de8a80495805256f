"""Addresses for people's own programs: calendars, feeds, summaries."""

from django.urls import URLPattern, path

from league.web.views import feeds, shared, subscribed

urlpatterns: list[URLPattern] = [
    path("clubs/<slug:slug>/programs/", feeds.programs, name="programs"),
    path("clubs/<slug:slug>/matches.ics", feeds.club_calendar, name="club-calendar"),
    path("clubs/<slug:slug>/results.atom", feeds.club_results, name="club-feed"),
    path("clubs/<slug:slug>/programs/address/", subscribed.make, name="own-address"),
    path(
        "clubs/<slug:slug>/programs/address/take-back/",
        subscribed.give_back,
        name="own-address-take-back",
    ),
    path("subscribed/<str:token>/matches.ics", subscribed.calendar, name="own-calendar"),
    path("subscribed/<str:token>/results.atom", subscribed.results, name="own-feed"),
    path(
        "subscribed/<str:token>/leagues/<int:league_id>/matches.ics",
        subscribed.league_calendar,
        name="own-league-calendar",
    ),
    path(
        "subscribed/<str:token>/leagues/<int:league_id>/results.atom",
        subscribed.league_results,
        name="own-league-feed",
    ),
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
