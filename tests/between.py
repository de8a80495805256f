"""A network between phone and site that loses, repeats or makes up answers to what is sent."""

from __future__ import annotations

import http.client
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


@dataclass(frozen=True, slots=True)
class Answer:
    """What the phone gets."""

    status: int
    body: bytes
    headers: tuple[tuple[str, str], ...] = ()


Forward = Callable[[], Answer]
# Given a way to ask the site, what the phone hears; None cuts the line without a word.
Fault = Callable[[Forward], Answer | None]

ONLY_BETWEEN = {"connection", "keep-alive", "transfer-encoding", "content-length", "date", "server"}


class Between:
    """Passes everything on, and does to the posts of weights what *fault* says."""

    def __init__(self, port: int) -> None:
        self.site_port = port
        self.fault: Fault = lambda forward: forward()
        self.url = ""


@contextmanager
def network(port: int) -> Iterator[Between]:
    """Stand between a phone and the site on *port*."""
    between = Between(port)
    server = ThreadingHTTPServer(("127.0.0.1", 0), _handler(between))
    server.daemon_threads = True
    between.url = f"http://127.0.0.1:{server.server_address[1]}"
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield between
    server.shutdown()
    server.server_close()


def _handler(between: Between) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        def _ask(self, body: bytes) -> Answer:
            link = http.client.HTTPConnection("127.0.0.1", between.site_port, timeout=20)
            try:
                link.request(self.command, self.path, body or None, dict(self.headers))
                answer = link.getresponse()
                headers = [
                    (name, value)
                    for name, value in answer.getheaders()
                    if name.lower() not in ONLY_BETWEEN
                ]
                return Answer(answer.status, answer.read(), tuple(headers))
            finally:
                link.close()

        def _pass_on(self) -> None:
            body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
            is_weights = self.command == "POST" and self.path.endswith("/send/")
            try:
                answer = between.fault(lambda: self._ask(body)) if is_weights else self._ask(body)
            except (OSError, http.client.HTTPException):
                answer = None
            self.close_connection = True
            if answer is None:
                return
            self.send_response(answer.status)
            for name, value in answer.headers:
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(answer.body)))
            self.send_header("Connection", "close")
            self.end_headers()
            self.wfile.write(answer.body)

        do_GET = do_POST = do_HEAD = _pass_on  # noqa: N815  the names the library calls

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    return Handler
