"""Rules types in columns. Migrations name these classes: their path does not change."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models


class LineUpBy(models.TextChoices):
    """Who says which member of a team fishes which section."""

    NAMED = "named", "As the captain names them"
    DRAWN = "drawn", "Drawn with the pegs"
    SHARED = "shared", "Drawn with the pegs, and shared fairly over the season"


class PointsField(models.CharField):  # type: ignore[type-arg]
    """Exact points: a whole number, a half or a third, kept as text such as 7, 7/2 or 34/3."""

    description = "Points, exact"

    # What the type checker is told goes in and comes out.
    _pyi_private_set_type: int | Fraction | None  # type: ignore[assignment]
    _pyi_private_get_type: Fraction | None  # type: ignore[assignment]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 20
        super().__init__(*args, **kwargs)
        # They count letters, and a fraction has none.
        self.validators.clear()

    def deconstruct(self) -> Any:
        """Leave the fixed length out of migrations."""
        name, path, args, kwargs = super().deconstruct()
        del kwargs["max_length"]
        return name, path, args, kwargs

    def from_db_value(self, value: str | None, *_: Any) -> Fraction | None:
        """Read points back exactly."""
        return Fraction(value) if value else None

    def to_python(self, value: Any) -> Fraction | None:
        """Read points from a form or a fixture."""
        if value in (None, ""):
            return None
        try:
            return Fraction(str(value).replace("½", ".5") if isinstance(value, str) else value)
        except (ValueError, ZeroDivisionError) as error:
            raise ValidationError(f"{value!r} is no number of points. Write 3 or 3.5.") from error

    def get_prep_value(self, value: Any) -> str | None:
        """Write points exactly."""
        points = self.to_python(value)
        return None if points is None else str(points)


class NetsField(models.JSONField):
    """Readings of the scales, one whole number of drams or grams a net, in the order weighed."""

    description = "Nets as read"

    def from_db_value(self, value: Any, *args: Any) -> tuple[int, ...]:
        """Read the nets back as a tuple, so that nobody edits a kept weigh-in by accident."""
        return tuple(super().from_db_value(value, *args) or ())

    def get_prep_value(self, value: Any) -> Any:
        """Write the nets as a list of whole numbers."""
        return super().get_prep_value([int(net) for net in value])
