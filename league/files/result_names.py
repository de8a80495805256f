"""One angler's name in a kept result, put otherwise wherever it stands; no figure is touched."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

# What is about the match, the rules or the bank names no angler of its own.
NOT_ABOUT_PEOPLE = frozenset({"match", "rules", "bank", "version", "state", "checks"})
NOT_A_NAME = frozenset({"team", "team_id", "peg", "section", "status", "called", "kind"})


@dataclass(frozen=True, slots=True)
class Renamed:
    """The result with the other name, and whether somebody else in it had the old one too."""

    document: dict[str, Any]
    old_names: frozenset[str]
    shared: bool


def rename(
    document: Mapping[str, Any],
    angler_id: str,
    shown: str,
    *,
    new_id: str | None = None,
    also: Iterable[str] = (),
) -> Renamed:
    """
    Put *shown* wherever the result names the angler, in its sentences as well.

    The names to look for are those the result itself gives the angler, and *also* others it may
    have been written under. Where two anglers of one result have one name, only what is certainly
    this one's is changed, and `shared` says so. With *new_id* the lines become that angler's.
    """
    old = frozenset(_names(document, angler_id)) | {name for name in also if name}
    others = {
        line["angler"] for line in _lines(document) if line.get("angler_id") not in ("", angler_id)
    }
    shared = bool(old & others)
    words = _Words(old, shown)
    whose = _Whose(angler_id, new_id or angler_id, shown)
    changed = {
        key: value if key in NOT_ABOUT_PEOPLE else _walk(value, whose, words, ours=not shared)
        for key, value in document.items()
    }
    return Renamed(changed, old, shared)


def reworded(text: str, old: Iterable[str], shown: str) -> str:
    """
    *text* with one of the *old* names put otherwise, where it stands as words of its own.

    >>> reworded("Peg 3, Lee Ash: in question. Lee Ashby is not.", ["Lee Ash"], "Lee A.")
    'Peg 3, Lee A.: in question. Lee Ashby is not.'
    """
    return _Words(frozenset(old), shown)(text)


def rename_payee(
    document: Mapping[str, Any],
    angler_id: str,
    shown: str,
    *,
    new_id: str | None = None,
    also: Iterable[str] = (),
) -> dict[str, Any]:
    """The same for a sheet of payouts, where a payee has a `key` and a `name`; no sum changes."""
    key = new_id or angler_id
    words = _Words(frozenset(also), shown)

    def walk(value: Any) -> Any:
        if isinstance(value, str):
            return words(value)
        if isinstance(value, list):
            return [key if each == angler_id else walk(each) for each in value]
        if not isinstance(value, dict):
            return value
        made = {name: walk(each) for name, each in value.items()}
        if value.get("key") == angler_id:
            made |= {"key": key, "name": shown}
        return made

    return {name: each if name == "plan" else walk(each) for name, each in document.items()}


class _Words:
    """Finds the old names, the longest first, so that a short one does not cut a long one up."""

    def __init__(self, old: frozenset[str], shown: str) -> None:
        names = sorted((name for name in old if name), key=len, reverse=True)
        self._pattern = (
            re.compile("|".join(rf"(?<!\w){re.escape(name)}(?!\w)" for name in names))
            if names
            else None
        )
        self._shown = shown

    def __call__(self, text: str) -> str:
        return self._pattern.sub(lambda _: self._shown, text) if self._pattern else text


@dataclass(frozen=True, slots=True)
class _Whose:
    key: str
    new_key: str
    shown: str


def _walk(value: Any, whose: _Whose, words: _Words, *, ours: bool) -> Any:
    """*ours* is whether a name found here can only be this angler's."""
    if isinstance(value, str):
        return words(value) if ours else value
    if isinstance(value, list):
        return [_walk(each, whose, words, ours=ours) for each in value]
    if not isinstance(value, dict):
        return value
    mine = value.get("angler_id") == whose.key
    made: dict[str, Any] = {}
    for key, each in value.items():
        if key == "angler_id":
            made[key] = whose.new_key if mine else each
        elif key == "angler":
            made[key] = whose.shown if mine else each
        elif key == "left_out":
            made[key] = [whose.new_key if one == whose.key else one for one in each]
        elif key in NOT_A_NAME:
            made[key] = each
        else:
            made[key] = _walk(each, whose, words, ours=ours or mine)
    return made


def _names(document: Mapping[str, Any], angler_id: str) -> Iterator[str]:
    return (line["angler"] for line in _lines(document) if line.get("angler_id") == angler_id)


def _lines(document: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    for section in document.get("sections", ()):
        yield from section["anglers"]
    for team in document.get("teams", ()):
        yield from team.get("short", ())
    yield from document.get("anglers", ())
