"""The move from the SQLite file to PostgreSQL: every table, in order, counted and summed up."""

from __future__ import annotations

import graphlib
import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from typing import Any

from django.apps import apps
from django.contrib.auth.models import Permission
from django.contrib.contenttypes.models import ContentType
from django.core.management.base import CommandError
from django.core.management.color import no_style
from django.db import connections, models, transaction

from league.operations.store import writing

TARGET = "target"
A_BATCH = 1000
# Made anew by the migrations of the target, and brought over as they are instead.
MADE_BY_MIGRATE = (Permission, ContentType)

Model = type[models.Model]


@dataclass(frozen=True, slots=True)
class Sum:
    """How many rows a table has, and a digest of all of them in whatever order."""

    rows: int
    digest: str


def in_order() -> list[Model]:
    """Every table, each after those that it refers to."""
    every = [model for model in apps.get_models(include_auto_created=True) if _is_ours(model)]
    graph = graphlib.TopologicalSorter({model: _refers_to(model) for model in every})
    return list(graph.static_order())


def refuse_unless_empty() -> None:
    """Refuse a target that holds anything that the move would meet."""
    target = connections[TARGET]
    there = set(target.introspection.table_names())
    ours = {model._meta.db_table: model for model in in_order()}
    strange = there - set(ours) - {"django_migrations"}
    if strange:
        raise CommandError(
            f"The target holds tables of something else: {', '.join(sorted(strange)[:5])}. Name an "
            "empty database."
        )
    for name in sorted(there & set(ours)):
        if ours[name] not in MADE_BY_MIGRATE and _base(ours[name], TARGET).exists():
            raise CommandError(
                f"The target is not empty: {name} has rows. Nothing is moved. Name an empty "
                "database."
            )


def move() -> Iterator[tuple[Model, Sum]]:
    """
    Copy every table and compare it; what differs undoes the whole.

    The source is held against writing until the end, so that both are of one moment.
    """
    order = in_order()
    with writing(), transaction.atomic(using=TARGET):
        for model in MADE_BY_MIGRATE:
            _base(model, TARGET).all().delete()
        for model in order:
            _copy(model)
        for model in order:
            here, there = sum_of(model, "default"), sum_of(model, TARGET)
            if here != there:
                raise CommandError(
                    f"{model._meta.db_table} differs: {here.rows} rows here, {there.rows} there, "
                    "or not the same in them. Nothing is moved."
                )
            yield model, there
        _go_on_counting(order)


def sum_of(model: Model, using: str) -> Sum:
    """Count a table and sum its rows up, the same on either engine."""
    total, count = 0, 0
    for row in _base(model, using).iterator(A_BATCH):
        values = [_plain(field.value_from_object(row)) for field in model._meta.concrete_fields]
        text = json.dumps(values, sort_keys=True, ensure_ascii=False)
        total += int.from_bytes(hashlib.sha256(text.encode()).digest())
        count += 1
    return Sum(count, f"{total % 2**256:064x}")


def _copy(model: Model) -> None:
    rows = iter(_base(model, "default").iterator(A_BATCH))
    while batch := list(islice(rows, A_BATCH)):
        _base(model, TARGET).bulk_create(batch)


def _go_on_counting(order: Sequence[Model]) -> None:
    """Let the target number new rows after those that came."""
    target = connections[TARGET]
    with target.cursor() as cursor:
        for statement in target.ops.sequence_reset_sql(no_style(), list(order)):
            cursor.execute(statement)


def _base(model: Model, using: str) -> models.QuerySet[Any]:
    return model._base_manager.using(using)


def _is_ours(model: Model) -> bool:
    return model._meta.managed and not model._meta.proxy


def _refers_to(model: Model) -> set[Model]:
    found = {
        field.related_model
        for field in model._meta.concrete_fields
        if field.is_relation and isinstance(field.related_model, type)
    }
    return found - {model}


def _plain(value: Any) -> Any:
    """A value as both engines give it back, in JSON's words."""
    if isinstance(value, memoryview | bytes):
        return bytes(value).hex()
    if isinstance(value, datetime):
        return value.timestamp()
    if value is None or isinstance(value, str | int | float | bool | list | dict):
        return value
    if isinstance(value, tuple):
        return list(value)
    return str(value)
