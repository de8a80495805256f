"""`add_club`: one more club on this installation, and the link for its match secretary."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.urls import reverse

from league.management.names import club_called, new_club
from league.management.tables import refuse_old_tables
from league.models import OfficeName
from league.operations.doors import invite
from league.operations.errors import RefusedError
from league.operations.store import writing


class Command(BaseCommand):
    """Clubs see nothing of each other; only whoever looks after the machine can add one."""

    help = (
        "Enter one more club and print the link by which its match secretary comes in. The link "
        "holds for a week and opens once; hand it to nobody else."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("club", metavar="CLUB", help="its name")
        parser.add_argument("secretary", metavar="NAME", help="who is to be match secretary")
        parser.add_argument(
            "--members-only", action="store_true", help="strangers read nothing of it"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_old_tables()
        if club_called(options["club"]) is not None:
            raise CommandError(f"There is a club {options['club']} already.")
        try:
            with writing():
                club = new_club(options["club"])
                if options["members_only"]:
                    club.public = False
                    club.save(update_fields=["public"])
                _, secret = invite(
                    club, name=options["secretary"], offices=[OfficeName.SECRETARY], by=None
                )
        except RefusedError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(
            f"{club} is entered. {options['secretary']} comes in at\n"
            f"{_site()}{reverse('invited', args=[secret])}"
        )


def _site() -> str:
    """The address of the site as far as the settings say it."""
    named = [host for host in settings.ALLOWED_HOSTS if host not in settings.THIS_MACHINE]
    if settings.HTTPS and named:
        return f"https://{named[0]}"
    return "http://127.0.0.1:8000"
