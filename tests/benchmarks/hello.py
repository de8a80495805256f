"""The whole site with one page more that does nothing: the limit the other pages are held to."""

import os

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, URLResolver, include, path

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")
settings.ROOT_URLCONF = "tests.benchmarks.hello"
application = get_wsgi_application()
handler404 = "league.web.views.lost.not_found"


def hello(request: HttpRequest) -> HttpResponse:
    """Answer without a question, a template or a club."""
    return HttpResponse("hello")


urlpatterns: list[URLPattern | URLResolver] = [
    path("hello/", hello),
    path("", include("league.urls")),
]
