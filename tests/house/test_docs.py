"""The documents name only what exists: paths, commands, addresses of pages."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.management import get_commands
from django.urls import URLPattern, URLResolver, get_resolver

ROOT = Path(__file__).resolve().parent.parent.parent
DOCUMENTS = [name for name in ("README.md", "DEVELOPERS.md") if (ROOT / name).is_file()]

TICKED = re.compile(r"`([^`\n]+)`")
PATH = re.compile(r"[\w.-]+(?:/[\w.*-]+)*/?")
SUFFIXES = {".py", ".md", ".toml", ".html", ".css", ".js", ".txt", ".csv", ".json", ".svg", ".png"}
# Made on the machine, by the command the document names beside it, and never in the repository.
MADE = ("var", ".venv", "dist")


def _said(name: str) -> list[str]:
    text = (ROOT / name).read_text()
    # Fenced blocks are run by people as they stand; what they run is looked for as a command.
    return TICKED.findall(re.sub(r"```.*?```", "", text, flags=re.S))


def _is_path(said: str) -> bool:
    if not PATH.fullmatch(said) or said.startswith(MADE):
        return False
    return said.endswith("/") or (Path(said).suffix in SUFFIXES and "/" in said)


def _exists(said: str) -> bool:
    # A document may name a file from the root or from the project's package.
    return any(list(ROOT.glob(start + said.rstrip("/"))) for start in ("", "league/", "tests/"))


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_path_a_document_names_is_there(name: str) -> None:
    assert [said for said in _said(name) if _is_path(said) and not _exists(said)] == []


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_command_a_document_names_is_there(name: str) -> None:
    named = re.findall(r"manage\.py ([a-z_]+)", (ROOT / name).read_text())

    assert [command for command in named if command not in get_commands()] == []


def _routes(patterns: list[URLPattern | URLResolver], before: str = "/") -> set[str]:
    found = set()
    for each in patterns:
        route = before + str(each.pattern)
        if isinstance(each, URLResolver):
            found |= _routes(each.url_patterns, route)
        else:
            found.add(re.sub(r"<(?:\w+:)?(\w+)>", r"<\1>", route))
    return found


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_address_a_document_names_is_a_page(name: str) -> None:
    routes = _routes(get_resolver().url_patterns)
    named = [said for said in _said(name) if re.fullmatch(r"/[\w<>/.-]*", said)]

    assert [address for address in named if not _is_address(address, routes)] == []


def _is_address(address: str, routes: set[str]) -> bool:
    """Whether it is a page, or the folder of one; `/etc/...` and the like are no addresses."""
    if address.startswith(("/etc/", "/var/", "/srv/", "/usr/", "/home/", "/static/")):
        return True
    plain = re.sub(r"<\w+>", "<>", address)
    return any(re.sub(r"<\w+>", "<>", route).startswith(plain) for route in routes)
