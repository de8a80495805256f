"""Serve the site from this machine."""

from __future__ import annotations

import importlib.util
import os
import socket
import sys
from typing import NoReturn

from django.conf import settings
from django.core.management.base import CommandError
from django.core.servers.basehttp import ThreadedWSGIServer, WSGIRequestHandler
from django.core.wsgi import get_wsgi_application

from league.management.in_use import hold

WORKERS, THREADS = 2, 4


def free_port(host: str, port: int) -> int:
    """*port*, or for 0 one that is free; refused where another program has it."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            raise CommandError(
                f"Nothing can be served at {host}, port {port}: {error.strerror}. Stop the program "
                "that is there, or choose another with --port."
            ) from error
        except OverflowError as error:
            raise CommandError(f"{port} is no port: write a number from 0 to 65535.") from error
        found: int = probe.getsockname()[1]
    return found


def serve(host: str, port: int, *, workers: int = WORKERS, threads: int = THREADS) -> NoReturn:
    """
    Hand the process over to the web server; it ends with Ctrl-C or a signal.

    Where there is no gunicorn, on Windows say, one process with a thread a request does.
    """
    sys.stdout.flush()
    at = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
    if os.name == "posix" and importlib.util.find_spec("gunicorn"):
        os.chdir(settings.BASE_DIR)
        os.environ["DJANGO_SETTINGS_MODULE"] = "league.settings"
        os.execv(  # noqa: S606  this very Python, and no shell
            sys.executable,
            [
                *(sys.executable, "-m", "gunicorn", "league.wsgi:application"),
                *("--bind", at, "--worker-class", "gthread"),
                *("--workers", str(workers), "--threads", str(threads)),
                *("--log-level", "warning"),
                # It would stand in the home of whoever serves, and a service has none.
                "--no-control-socket",
            ],
        )
    server = ThreadedWSGIServer((host, port), WSGIRequestHandler, ipv6=":" in host)
    server.daemon_threads = True
    server.set_app(get_wsgi_application())
    hold()
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        server.server_close()
    sys.exit(0)
