"""The roof: joins the pages and the set-up screens."""

from django.contrib import admin
from django.urls import include, path
from django.views.generic import RedirectView

urlpatterns = [
    # One door: the throttle stands before the set-up screens as well.
    path("admin/login/", RedirectView.as_view(pattern_name="sign-in", query_string=True)),
    path("admin/", admin.site.urls),
    path("", include("league.web.urls")),
]

handler404 = "league.web.views.lost.not_found"
