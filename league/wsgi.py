"""The door for a web server."""

import os

from django.core.wsgi import get_wsgi_application

from league.management.in_use import hold

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")

application = get_wsgi_application()
hold()
