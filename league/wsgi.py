"""The door for a web server."""

import os

from django.core.wsgi import get_wsgi_application
from django.urls import get_resolver

from league.management.in_use import hold

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")

application = get_wsgi_application()
get_resolver().url_patterns  # noqa: B018  every page is read in now, not while the first visitor waits
hold()
