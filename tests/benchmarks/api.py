"""
Thousands of made-up calls of the interface, good and bad, on the demo club. Run it by hand:

    python -m tests.benchmarks.api [CALLS]

Every address is called up to CALLS times (100, if it is not said) with what its description
allows and as often with what it does not. It stops at the first server error, at an answer that
the description does not know, and at a bad call that was taken for a good one.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
KNOWN = {"slug": "marlbrook", "match_id": 19, "season_id": 3, "team_id": 7, "angler_id": 2}


def main() -> None:
    """Fill the demo club, call, and print how it was answered."""
    each = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as data:
        os.environ["DRAWBAG_DATA"] = data
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")
        subprocess.run(
            [sys.executable, "manage.py", "demo", "--no-serve"],
            cwd=ROOT,
            check=True,
            capture_output=True,
        )
        import schemathesis  # after the settings have been pointed at the folder

        from league.wsgi import application
        from tests.web.calls import make_calls

        schema = schemathesis.openapi.from_wsgi("/api/1/openapi.json", application)
        for mode in schemathesis.GenerationMode:
            answers = make_calls(schema, mode, each=each, known=KNOWN)
            told = ", ".join(f"{count} × {status}" for status, count in sorted(answers.items()))
            sys.stdout.write(f"{mode.value}: {answers.total()} calls: {told}\n")


if __name__ == "__main__":
    main()
