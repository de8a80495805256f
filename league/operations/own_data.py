"""Everything that is kept of one angler, as one file for that person."""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from django.contrib.auth.models import User
from django.db import models
from django.utils import timezone

from league.files.result import line_of
from league.models import Angler, Entry, Result
from league.rules.weights import Unit, spoken

# Digests of secrets say nothing about a person and may help somebody else in.
SECRET = frozenset({"password", "secret_hash", "token_hash", "sealed_secret", "key", "document"})


def own_data(angler: Angler) -> dict[str, Any]:
    """
    What the club holds of *angler*: the record, every row of every table that points at it.

    It goes by the tables themselves and not by a list of them, so that a table added later is in
    it too. Names of other people are left out, but for whoever wrote a row.
    """
    entries = list(Entry.objects.every_one_of(angler))
    return {
        "what this is": f"Everything that {angler.club} keeps of {angler.name} with Drawbag.",
        "made at": timezone.now().isoformat(timespec="seconds"),
        "angler": _row(angler) | {"printed as": angler.shown_name},
        "sign-in": _sign_in(angler.user),
        "matches": [_match(entry, angler) for entry in entries],
        "other rows": {
            **_pointing_at(angler, but={"entries"}),
            **_of_the_user(angler),
        },
    }


def as_json(angler: Angler) -> str:
    """The same as a file that a person can read and a program too."""
    return json.dumps(own_data(angler), ensure_ascii=False, indent=1) + "\n"


def as_json_of_user(user: User) -> str:
    """The same of whoever is signed in, in every club they fish with."""
    anglers = list(Angler.objects.of_user(user))
    data = {
        "clubs": [own_data(angler) for angler in anglers],
        **({} if anglers else {"sign-in": _sign_in(user), "rows": _pointing_at(user, but=set())}),
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _match(entry: Entry, angler: Angler) -> dict[str, Any]:
    match = entry.match
    return {
        "match": f"{match}, {match.water}, {match.date.isoformat()}",
        "league": str(match.season) if match.season else None,
        "booked in": _row(entry),
        "team": str(entry.team) if entry.team else None,
        "peg": str(entry.match_peg) if entry.match_peg else None,
        "rows": _pointing_at(entry, but=set()),
        "published": list(_published(entry, angler)),
    }


def _published(entry: Entry, angler: Angler) -> Iterator[dict[str, Any]]:
    """What each version of the result says of the angler."""
    for result in Result.objects.of(entry.match):
        line = line_of(result.document, str(angler.pk))
        if line is not None:
            unit = Unit(result.document["match"]["unit"])
            yield {
                "version": result.version,
                "state": result.state,
                "published at": result.published_at.isoformat(timespec="seconds"),
                "printed as": line.row.angler,
                "peg": line.row.peg,
                "section": line.row.section,
                "status": line.status.value,
                "weight": spoken(line.weight, unit),
                "place in the section": line.place,
                "points": None if line.points is None else str(line.points),
                "decision": line.row.decision,
                "note": line.row.note,
            }


def _sign_in(user: User | None) -> dict[str, Any] | None:
    if user is None:
        return None
    return {
        "name": user.get_username(),
        "first name": user.first_name,
        "last name": user.last_name,
        "email": user.email,
        "joined": user.date_joined.isoformat(timespec="seconds"),
        "last signed in": user.last_login.isoformat(timespec="seconds")
        if user.last_login
        else None,
    }


def _of_the_user(angler: Angler) -> dict[str, list[dict[str, Any]]]:
    """What belongs to the sign-in; what was done in an office stands in the journal."""
    return {} if angler.user is None else _pointing_at(angler.user, but={"anglers"})


def _pointing_at(row: models.Model, *, but: set[str]) -> dict[str, list[dict[str, Any]]]:
    """The rows of every table that point at *row*, by what the table is called."""
    found: dict[str, list[dict[str, Any]]] = {}
    for relation in row._meta.related_objects:
        accessor = relation.get_accessor_name()
        if accessor is None or accessor in but:
            continue
        if relation.one_to_one:
            rows = [getattr(row, accessor)] if hasattr(row, accessor) else []
        else:
            rows = list(getattr(row, accessor).all())
        if rows:
            name = str(relation.related_model._meta.verbose_name_plural)
            found.setdefault(name, []).extend(_row(each) for each in rows)
    return found


def _row(row: models.Model) -> dict[str, Any]:
    """Every column of a row by its name, a row it points at in that row's own words."""
    said: dict[str, Any] = {}
    for field in row._meta.concrete_fields:
        if field.name in SECRET or field.primary_key:
            continue
        value = getattr(row, field.name) if field.is_relation else field.value_from_object(row)
        if value in (None, "", [], {}):
            continue
        said[str(field.verbose_name)] = _plain(value)
    return said


def _plain(value: Any) -> Any:
    if isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    if isinstance(value, dict):
        return {str(key): _plain(each) for key, each in value.items()}
    if isinstance(value, Fraction) or not hasattr(value, "isoformat"):
        return str(value)
    return value.isoformat()
