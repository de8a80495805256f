"""The site as a club runs it: gunicorn on a database file, to be stopped, killed and started."""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent
GATHER = """
import django; django.setup()
from league.management.gather import gather
gather()
"""


class Site:
    """One installation in a folder of its own."""

    def __init__(
        self,
        folder: Path,
        *,
        pegs: int = 24,
        like: Path | None = None,
        more: dict[str, str] | None = None,
    ) -> None:
        """Make an installation in *folder*, or a copy of one; *more* is for its environment."""
        folder.mkdir(parents=True, exist_ok=True)
        self.folder = folder
        self.port = _free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None
        self.env = {
            **{name: value for name, value in os.environ.items() if name != "DATABASE_URL"},
            "DRAWBAG_DATA": str(folder),
            "DRAWBAG_SECRET_KEY": "for tests only, never for a club",
            "DRAWBAG_DRAW_KEY": "for tests only, never for a draw",
            "DJANGO_SETTINGS_MODULE": "league.settings",
            **(more or {}),
        }
        if like is not None:
            shutil.copytree(like, folder, dirs_exist_ok=True)
        else:
            self.run("manage.py", "migrate", "-v0")
            (folder / "scene.json").write_text(self.run("-m", "tests.scales_scene", str(pegs)))
        scene = folder / "scene.json"
        self.scene: dict[str, Any] = json.loads(scene.read_text()) if scene.exists() else {}

    def gather(self) -> None:
        """The static files as served, hashed names and all."""
        self.run("-c", GATHER)

    def run(self, *command: str) -> str:
        """Run Python in this installation, and give back what it printed."""
        done = subprocess.run(
            [sys.executable, *command],
            cwd=ROOT,
            env=self.env,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr[-3000:]
        return done.stdout

    def start(self, *, workers: int = 2, threads: int = 4) -> None:
        """Serve, and come back once the first page is answered."""
        with (self.folder / "server.log").open("ab") as log:
            self.process = subprocess.Popen(
                [
                    sys.executable, "-m", "gunicorn", "league.wsgi",
                    "--bind", f"127.0.0.1:{self.port}", "--log-level", "warning", "--preload",
                    "--workers", str(workers), "--threads", str(threads),
                ],
                cwd=ROOT,
                env=self.env,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )  # fmt: skip
        self._wait_until_it_answers()

    def _wait_until_it_answers(self) -> None:
        assert self.process is not None
        for _ in range(300):
            assert self.process.poll() is None, (self.folder / "server.log").read_text()[-2000:]
            try:
                urllib.request.urlopen(self.url, timeout=2).close()  # noqa: S310  our own server
            except urllib.error.HTTPError:
                return
            except OSError:
                time.sleep(0.05)
            else:
                return
        raise AssertionError("The server does not answer.")

    def stop(self, how: signal.Signals = signal.SIGTERM) -> None:
        """End the server and all its workers; SIGKILL is a pulled plug."""
        if self.process is None:
            return
        os.killpg(self.process.pid, how)
        self.process.wait(timeout=30)
        self.process = None

    def ask(self, question: str, *values: Any) -> list[tuple[Any, ...]]:
        """Read the database file, past the site."""
        name = f"file:{self.folder / 'drawbag.sqlite3'}?mode=ro"
        with closing(sqlite3.connect(name, uri=True)) as file:
            return file.execute(question, values).fetchall()

    def change(self, order: str, *values: Any) -> None:
        """Write to the database file, past the site."""
        name = self.folder / "drawbag.sqlite3"
        with closing(sqlite3.connect(name, timeout=20)) as file, file:
            file.execute(order, values)


class Standing:
    """A site left running between tests: starting one takes longer than most of them."""

    def __init__(self, made: Path, folders: pytest.TempPathFactory) -> None:
        self.made = made
        self.folders = folders
        self.site: Site | None = None
        self.started: tuple[int, str] = (0, "")

    def as_made(self) -> Site:
        """Give the site with the records it was made with, started if none is left."""
        if self.site is None:
            self.site = Site(self.folders.mktemp("site"), like=self.made)
            self.site.start()
            assert self.site.process is not None
            self.started = (self.site.process.pid, self.site.url)
            return self.site
        kept, here = (each / "drawbag.sqlite3" for each in (self.made, self.site.folder))
        with closing(sqlite3.connect(kept)) as before, closing(sqlite3.connect(here)) as now:
            before.backup(now)
        return self.site

    def take_back(self, site: Site) -> None:
        """Keep it for the next test, unless it was stopped or started anew."""
        pid, site.url = self.started
        if site.process is None or site.process.pid != pid:
            self.end()

    def end(self) -> None:
        """Stop what runs."""
        if self.site is not None:
            self.site.stop()
            self.site = None


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port
