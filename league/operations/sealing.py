"""The secret of a draw at rest: encrypted with a key of its own, opened only to finish an event."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable

from cryptography.fernet import Fernet, InvalidToken
from django.conf import settings
from django.db import DatabaseError
from django.views.decorators.debug import sensitive_variables

from league.operations.errors import RefusedError


def is_possible() -> bool:
    """Whether this server has a key to lock secrets away with."""
    return bool(settings.DRAW_KEY)


@sensitive_variables("secret")
def close(secret: str) -> bytes:
    """Encrypt *secret* with the key of the settings."""
    return _box().encrypt(secret.encode("ascii"))


@sensitive_variables("opened")
def open_up(sealed: bytes | memoryview | None) -> str:
    """Decrypt what `close` made. The caller uses it at once and keeps it nowhere."""
    if not sealed:
        raise RefusedError(
            "No secret was locked away for this draw, so it cannot go on. Give the peg by hand."
        )
    try:
        opened = _box().decrypt(bytes(sealed))
    except InvalidToken as error:
        raise RefusedError(
            "The secret of this draw cannot be opened: DRAWBAG_DRAW_KEY is another than when it "
            "was locked away. Set the old key again, or draw by hand from a bag."
        ) from error
    return opened.decode("ascii")


def out_of_reports(act: Callable[[], None]) -> None:
    """
    Do *act*, and keep what it opens out of every error report until it is published.

    A report prints the variables of each call on the way to a fault, and what a database was
    asked to write. So a fault goes on with its kind and first line, and without that way.
    """
    fault: Exception | None = None
    try:
        act()
    except RefusedError:
        raise
    except Exception as error:  # whatever it is, its frames hold the secret
        fault = _without_frames(error)
    if fault is not None:  # raised out here, so that it carries no memory of the other
        raise fault


def _without_frames(error: Exception) -> Exception:
    said = str(error).partition("\n")[0]
    if isinstance(error, DatabaseError | OSError):
        return type(error)(said)
    return RuntimeError(f"The draw could not be finished, and nothing was changed: {said}")


@sensitive_variables("key")
def _box() -> Fernet:
    if not is_possible():
        raise RefusedError(
            "DRAWBAG_DRAW_KEY is not set on the server, so the secret of a draw cannot be locked "
            "away. Set it, or draw by hand from a bag."
        )
    # Whatever its length, the setting makes 32 bytes; it is random, so one hashing is enough.
    key = hashlib.sha256(b"Drawbag draw key:" + settings.DRAW_KEY.encode()).digest()
    return Fernet(base64.urlsafe_b64encode(key))
