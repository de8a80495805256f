"""The secret of a draw at rest: encrypted with a key of its own, opened only to finish an event."""

from __future__ import annotations

import base64
import hashlib

from cryptography.fernet import Fernet, InvalidToken
from django.conf import settings
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
