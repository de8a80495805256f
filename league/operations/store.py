"""
The write queue: one door through which everything that writes goes.

SQLite has one writer, and its own waiting is not fair: with eight phones the slowest waited
seventy times as long as the middle one. A queue before it brings that to about two and a half
and loses no throughput. PostgreSQL queues by itself and only gets the transaction.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import ModuleType
from typing import IO, TypeVar

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import IntegrityError, connection, models, transaction

from league.operations.errors import RefusedError

fcntl: ModuleType | None
try:
    import fcntl
except ImportError:  # Windows: one worker process, the thread lock is enough
    fcntl = None

Row = TypeVar("Row", bound=models.Model)

_threads = threading.RLock()


@contextmanager
def writing() -> Iterator[None]:
    """
    Hold the queue round one short transaction.

    Nothing slow belongs inside: no PDF, no mail, no scoring of a whole season. Inside another
    transaction, or in a second call of the same thread, it only nests.
    """
    if connection.vendor != "sqlite" or connection.in_atomic_block:
        with transaction.atomic():
            yield
        return
    with _threads, _between_processes(), transaction.atomic():
        yield


@contextmanager
def _between_processes() -> Iterator[None]:
    name = str(connection.settings_dict["NAME"])
    if fcntl is None or not name or ":memory:" in name or "mode=memory" in name:
        yield
        return
    queue: IO[str]
    with Path(f"{name}.queue").open("w") as queue:
        fcntl.flock(queue, fcntl.LOCK_EX)
        yield


def add(row: Row) -> Row:
    """
    Write a new row, or refuse it in the words of its fields and constraints.

    Somebody else can write between the look and the act; the database judges that race, and the
    one who comes second hears the same words.
    """
    _look_over(row)
    try:
        with transaction.atomic():
            row.save(force_insert=True)
    except IntegrityError as clash:
        _look_over(row)
        raise RefusedError("Somebody else changed this meanwhile; look again.") from clash
    return row


def change(row: Row, *fields: str) -> Row:
    """Write *fields* of a row that is there, or refuse it in the words of its constraints."""
    _look_over(row)
    try:
        with transaction.atomic():
            row.save(update_fields=list(fields))
    except IntegrityError as clash:
        _look_over(row)
        raise RefusedError("Somebody else changed this meanwhile; look again.") from clash
    return row


def _look_over(row: models.Model) -> None:
    try:
        row.full_clean()
    except ValidationError as fault:
        raise RefusedError(" ".join(_said(row, fault))) from fault


def _said(row: models.Model, fault: ValidationError) -> Iterator[str]:
    for name, messages in fault.message_dict.items():
        for message in messages:
            if name == NON_FIELD_ERRORS:
                yield message
            else:
                label = str(getattr(row._meta.get_field(name), "verbose_name", name))
                yield f"{label[:1].upper()}{label[1:]}: {message}"
