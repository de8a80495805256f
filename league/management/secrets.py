"""The two secrets of a trial, made on its first run and kept beside its database."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from django.conf import settings

KEPT_IN = {"SECRET_KEY": "secret-key", "DRAW_KEY": "draw-key"}


def make_missing(folder: Path) -> list[Path]:
    """Make what is neither in the environment nor in *folder*; returns the new files."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    made = []
    for name, kept_in in KEPT_IN.items():
        if os.environ.get(f"DRAWBAG_{name}"):
            continue
        path = folder / kept_in
        if _write_once(path):
            made.append(path)
        setattr(settings, name, path.read_text(encoding="ascii").strip())
    return made


def _write_once(path: Path) -> bool:
    """
    Write a new secret, readable by its owner alone.

    Linked into place once it is whole, so that of two first runs both read the same one.
    """
    if path.exists():
        return False
    draft = path.with_name(f"{path.name}.{os.getpid()}")
    opened = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(opened, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(48) + "\n")
    try:
        os.link(draft, path)
    except FileExistsError:
        return False
    finally:
        draft.unlink()
    return True
