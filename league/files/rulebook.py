"""The rule book as a file: TOML and plain dictionaries in and out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.files.book_read import from_dict, read_toml
from league.files.book_write import as_dict, write_toml
from league.rules.rulebook import Rulebook
from league.rules.traps import traps as warnings

__all__ = ["as_dict", "changed", "from_dict", "read_toml", "warnings", "write_toml"]


def changed(book: Rulebook, changes: Mapping[str, Any]) -> Rulebook:
    """
    *book* with some keys written otherwise, `{"section": {"equal": "better"}}` say.

    A value of None leaves the key out, so that the default holds.
    """
    data = as_dict(book)
    for key, value in changes.items():
        if isinstance(value, Mapping) and isinstance(data.get(key), dict):
            merged = {**data[key], **value}
            data[key] = {name: each for name, each in merged.items() if each is not None}
        else:
            data[key] = value
    return from_dict(data)
