"""`serve`: the site as it should run for real, on one machine."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.db import connection

from league.management.daily import start_beside
from league.management.gather import gather
from league.management.serving import THREADS, WORKERS, free_port, serve
from league.management.tables import refuse_old_tables
from league.operations.first_run import first_run_key, is_first_run

THIS_MACHINE = {"127.0.0.1", "::1", "localhost"}


class Command(BaseCommand):
    """Refuses to start half set up: the checks say what is missing."""

    help = (
        "Serve the site: gunicorn with a few processes and threads. Behind a web server that "
        "brings https, leave the host as it is."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="127.0.0.1 unless told")
        parser.add_argument("--port", type=int, default=8000, help="8000 unless told")
        parser.add_argument("--workers", type=int, default=WORKERS, help="processes")
        parser.add_argument("--threads", type=int, default=THREADS, help="threads a process")
        parser.add_argument(
            "--no-daily",
            action="store_true",
            help="leave the daily backup to a timer that runs the command daily",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = options["host"], free_port(options["host"], options["port"])
        refuse_old_tables()
        connection.close()
        gather()
        if host not in THIS_MACHINE:
            self.stderr.write(
                "Without https in front, passwords cross the network readable by others. On "
                "anything but a network of your own put a web server with https before it."
            )
        shown = f"[{host}]" if ":" in host else host
        self.stdout.write(f"http://{shown}:{port}/\n")
        if is_first_run():
            self.stdout.write(
                "Nobody is here yet. Set the club up at\n"
                f"http://{shown}:{port}/start/?key={first_run_key()}\n"
                "Whoever has that address becomes match secretary: hand it to nobody else.\n"
            )
            connection.close()
        if not options["no_daily"]:
            start_beside()
        serve(host, port, workers=options["workers"], threads=options["threads"])
