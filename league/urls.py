"""The roof: joins the pages and the set-up screens."""

from django.contrib import admin
from django.urls import include, path

urlpatterns = [
    path("admin/", admin.site.urls),
    path("", include("league.web.urls")),
]
