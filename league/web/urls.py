"""Every page, one line each, grouped by prefix."""

from django.urls import URLPattern, URLResolver

urlpatterns: list[URLPattern | URLResolver] = [
    # / (home)
    # /matches/<match_id>/ (the day)
    # /matches/<match_id>/draw/
    # /scales/<match_id>/
    # /matches/<match_id>/result/
    # /tables/<season_id>/
    # /anglers/
    # /desk/
    # /sign-in/
]
