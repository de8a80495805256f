"""What the rules refuse. Every message is fit to show: what is wrong, where, and what to do."""

from __future__ import annotations

from dataclasses import dataclass


class RuleError(ValueError):
    """Input the rules cannot work with. Never raised itself, only its kinds."""


class WeightError(RuleError):
    """A figure that is no reading of any scale, sixteen ounces say."""


class RulebookError(RuleError):
    """A rule book that contradicts itself, or asks for what no rule offers."""


class PegError(RuleError):
    """Pegs that cannot be made into the sections asked for."""


class DrawError(RuleError):
    """A draw that cannot be made, or a record that does not check."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a file: where it stands and what to do about it."""

    row: int | None
    column: str
    words: str

    def __str__(self) -> str:
        if self.row is None:
            return self.words
        where = f"Row {self.row}, {self.column}" if self.column else f"Row {self.row}"
        return f"{where}: {self.words}"


class SheetError(RuleError):
    """A file with faults; all of them, so that it can be put right in one go."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults
