"""A PostgreSQL server for one run of tests: started in a second, thrown away afterwards."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from tests.tools import postgres_program

# Nothing here outlives the run, so nothing is worth waiting for the disk.
SETTINGS = (
    "listen_addresses=''",
    "fsync=off",
    "synchronous_commit=off",
    "full_page_writes=off",
    "max_connections=80",
)


@contextmanager
def server() -> Iterator[str]:
    """
    Run a server of its own in a temporary folder, and give its address for `DATABASE_URL`.

    It listens on a socket in that folder alone, so that runs side by side never meet. PostgreSQL
    refuses to run as root; started by root it runs as postgres, or as nobody.
    """
    initdb, pg_ctl = postgres_program("initdb"), postgres_program("pg_ctl")
    if not initdb or not pg_ctl:
        raise FileNotFoundError("No PostgreSQL server program: neither initdb nor pg_ctl is there.")
    folder = Path(tempfile.mkdtemp(prefix="drawbag-pg-", dir="/tmp"))  # a socket's path is short
    data = folder / "data"
    person = _person()
    if person:
        os.chown(folder, person.pw_uid, person.pw_gid)
    options = " ".join(f"-c {each}" for each in (*SETTINGS, f"unix_socket_directories={folder}"))
    run = {"user": person.pw_uid, "group": person.pw_gid} if person else {}
    try:
        _do([initdb, "-D", data, "-U", "postgres", "-A", "trust", "--no-sync", "--no-locale",
             "-E", "UTF8"], folder, run)  # fmt: skip
        _do([pg_ctl, "-D", data, "-w", "-t", "60", "-l", folder / "log", "-o", options, "start"],
            folder, run)  # fmt: skip
        try:
            yield f"postgres://postgres@{quote(str(folder), safe='')}/postgres"
        finally:
            _do([pg_ctl, "-D", data, "-m", "immediate", "stop"], folder, run)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _person() -> pwd.struct_passwd | None:
    """Whose server it is: nobody else's where root runs the tests."""
    if os.geteuid() != 0:
        return None
    for name in ("postgres", "nobody"):
        try:
            return pwd.getpwnam(name)
        except KeyError:
            continue
    return None


def _do(command: list[str | Path], folder: Path, run: dict[str, int]) -> None:
    # Started in a folder its own user may read; pg_ctl's server must not hold this run's pipes.
    done = subprocess.run(
        [str(part) for part in command],
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE if "initdb" in str(command[0]) else subprocess.DEVNULL,
        text=True,
        check=False,
        **run,  # type: ignore[arg-type]
    )
    if done.returncode:
        log = folder / "log"
        said = log.read_text() if log.is_file() else done.stderr
        raise RuntimeError(f"{command[0]} failed:\n{said}")


if __name__ == "__main__":
    # python -m tests.postgres pytest tests/models: any command, with the server's address set.
    with server() as address:
        ran = subprocess.run(sys.argv[1:], env={**os.environ, "DATABASE_URL": address}, check=False)
    sys.exit(ran.returncode)
