"""`demo`: from an empty machine to a club in the middle of its winter."""

from __future__ import annotations

from argparse import BooleanOptionalAction
from pathlib import Path
from typing import Any

from django.conf import settings as django_settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from league.management.demo import fill, fill_matches
from league.management.demo.settings import Settings, read
from league.management.gather import gather
from league.management.secrets import make_missing
from league.management.serving import free_port, serve
from league.operations.errors import RefusedError
from league.operations.store import writing

# A trial is for this machine alone: its passwords are known to everybody.
HOST = "127.0.0.1"


class Command(BaseCommand):
    """Running it twice is harmless: what is there already stays as it is."""

    help = (
        "Set up a made-up club on this machine and serve it: a winter half fished, a round ready "
        "to draw, and a team day drawn and ready for the scales. Prints who may sign in."
    )
    # The secrets that the checks ask for are made here.
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=int, default=8000, help="8000 unless told; 0: any free")
        parser.add_argument(
            "--serve", action=BooleanOptionalAction, default=True, help="serve it once it is there"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        port = free_port(HOST, options["port"]) if options["serve"] else options["port"]
        for path in make_missing(Path(django_settings.DATA_DIR)):
            self.stdout.write(f"A secret was made: {path}")
        self.check()
        call_command("migrate", verbosity=0, interactive=False)
        settings = read()
        self.fill(settings)
        gather()
        self.say_who(settings)
        if options["serve"]:
            self.stdout.write(f"\nhttp://{HOST}:{port}/\n")
            self.stdout.flush()
            serve(HOST, port)

    def fill(self, settings: Settings) -> None:
        """Make the club, once; half a club never stands."""
        try:
            with writing():
                if fill.demo_club(settings) is None:
                    self.stdout.write("Making the club: some seconds ...")
                    self.stdout.flush()
                    ground = fill.prepare(settings, timezone.localdate())
                    fill_matches.fill_matches(ground, settings)
        except RefusedError as error:
            raise CommandError(str(error)) from error

    def say_who(self, settings: Settings) -> None:
        """Who may sign in, and what this is for."""
        self.stdout.write(f"{settings['club']['name']} is made up, and so is everybody in it.")
        self.stdout.write("Its front page is open to everybody. These may sign in:\n\n")
        for told in settings["sign_in"]:
            name = f"{told['name']}, {told['office']}"
            self.stdout.write(f"  {told['username']:<10} {told['password']:<17} {name}")
        self.stdout.write(
            "\nThese passwords are known to everybody who can read the handbook: keep the trial "
            "on this machine, and no real club in it."
        )
