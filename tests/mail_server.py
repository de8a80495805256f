"""A mail server in a few lines, over a real socket: takes letters, refuses some, falls silent."""

from __future__ import annotations

import socketserver
import threading
from collections.abc import Iterator
from contextlib import contextmanager


class MailServer(socketserver.ThreadingTCPServer):
    """What it took, as (address, letter); who it refuses; whose letter makes it hang up."""

    allow_reuse_address = True
    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), _Talk)
        self.took: list[tuple[str, str]] = []
        self.refuses: set[str] = set()
        self.hangs_up_on: set[str] = set()


class _Talk(socketserver.StreamRequestHandler):
    server: MailServer

    def handle(self) -> None:
        """Speak as much of RFC 5321 as a sender needs."""
        self._say("220 mail.example.test")
        address = ""
        while line := self.rfile.readline().decode().strip():
            word = line.split(":")[0].split(" ")[0].upper()
            if word == "RCPT":
                address = line.partition("<")[2].partition(">")[0]
                if address in self.server.hangs_up_on:
                    return
                refused = address in self.server.refuses
                self._say("550 no such person" if refused else "250 ok")
            elif word == "DATA":
                self._say("354 go on")
                self.server.took.append((address, self._letter()))
                self._say("250 taken")
            elif word == "QUIT":
                self._say("221 goodbye")
                return
            else:
                self._say("250 ok")

    def _letter(self) -> str:
        lines = []
        while (line := self.rfile.readline().decode()) not in {".\r\n", ""}:
            lines.append(line)
        return "".join(lines)

    def _say(self, words: str) -> None:
        self.wfile.write(f"{words}\r\n".encode())


@contextmanager
def mail_server() -> Iterator[MailServer]:
    """A server on a port of its own, gone at the end."""
    with MailServer() as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        try:
            yield server
        finally:
            server.shutdown()
            thread.join()
