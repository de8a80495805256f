"""`check_draw`: a published draw worked out again, by the very file that the site offers."""

from __future__ import annotations

import runpy
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandParser

# Run as a visitor would run it, so that what is offered for download is what is used here.
CHECKER = Path(settings.BASE_DIR) / "league" / "web" / "static" / "league" / "check_draw.py"


class Command(BaseCommand):
    """Needs no database and no settings of its own."""

    help = (
        "Work a draw out again from its record, and name what differs. Ends with 0 where "
        "everything comes out as published, with 1 where something does not."
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("record", metavar="RECORD.json")
        parser.add_argument("--json", action="store_true", help="what came out, as data")

    def handle(self, *args: Any, **options: Any) -> None:
        checker = runpy.run_path(str(CHECKER))
        ended = checker["main"]([options["record"], *(["--json"] if options["json"] else [])])
        if ended:
            sys.exit(ended)
