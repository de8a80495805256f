"""The first run; nothing answers here once there is a club."""

from django.urls import URLPattern, URLResolver, path

from league.web.views import start

urlpatterns: list[URLPattern | URLResolver] = [
    path("start/", start.start, name="start"),
    path("start/look/", start.look, name="start-look"),
]
