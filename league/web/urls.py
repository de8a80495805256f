"""Every page, one line each, grouped by prefix."""

from django.urls import URLPattern, URLResolver, include, path

from league.web.views import desk, draw, match, publish, run, scales, weights

# /matches/<match_id>/
match_urls: list[URLPattern | URLResolver] = [
    path("", match.match, name="match"),
    path("draw/", draw.draw, name="draw"),
]

# /matches/<match_id>/run/
run_urls: list[URLPattern | URLResolver] = [
    path("", run.run, name="match-run"),
    path("book-in/", run.enter, name="run-book-in"),
    path("withdraw/<int:entry_id>/", run.take_out, name="run-withdraw"),
    path("sections/", run.sections, name="run-sections"),
    path("settle/<int:entry_id>/", weights.settle_two, name="run-settle"),
    path("correct/<int:entry_id>/", weights.correct, name="run-correct"),
    path("decide/", publish.decision, name="run-decide"),
    path("lift/<int:decision_id>/", publish.lift_decision, name="run-lift"),
    path("publish/", publish.look_over, name="run-publish"),
    path("final/", publish.final, name="run-final"),
]

# /scales/<match_id>/
scales_urls: list[URLPattern | URLResolver] = [
    path("", scales.walk, name="scales"),
    path("<int:entry_id>/", scales.weigh, name="scales-weigh"),
    path("<int:entry_id>/stand/", scales.stand, name="scales-stand"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    # / (home)
    path("matches/<int:match_id>/", include(match_urls)),
    path("matches/<int:match_id>/run/", include(run_urls)),
    path("scales/<int:match_id>/", include(scales_urls)),
    # /matches/<match_id>/result/
    # /tables/<season_id>/
    # /anglers/
    path("desk/", desk.desk, name="desk"),
    path("desk/<slug:slug>/", desk.desk, name="desk"),
    # /sign-in/
]
