"""What `score --against` writes: a season's table under other rules, as text and CSV."""

from __future__ import annotations

import csv
from io import StringIO
from textwrap import fill

from league.compared import what_if_columns
from league.files.csv_text import shielded
from league.management.terminal import WIDTH, plain, table
from league.rules import words
from league.rules.rulebook import Rulebook
from league.rules.what_if import RuleChange, WhatIf


def say(what_if: WhatIf, other: Rulebook) -> str:
    """Both tables in one, who moves and why, and what each changed rule does alone."""
    unit = what_if.now.unit
    parts = [
        f"Under {plain(other.name)}: {words.what_if_headline(what_if)}",
        table(what_if_columns(what_if), what_if.pairs),
        *(_filled(f"{move.facts['name']}: {words.say(move, unit)}") for move in what_if.moves),
        *(_change(change) for change in what_if.changes),
    ]
    return "\n\n".join(parts) + "\n"


def as_csv(what_if: WhatIf) -> str:
    """Both tables, a line a competitor, with why the place changes."""
    headed = what_if_columns(what_if)
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow([*(shielded(column.heading) for column in headed), "Why"])
    for pair in what_if.pairs:
        why = words.say(pair.why, what_if.now.unit) if pair.why else ""
        writer.writerow([*(shielded(column.in_file(pair)) for column in headed), shielded(why)])
    return text.getvalue()


def _change(change: RuleChange) -> str:
    lines = [
        *(f"Now:  {said}" for said in change.was),
        *(f"Then: {said}" for said in change.becomes),
        words.say_alone(change),
    ]
    return "\n".join(fill(plain(line), WIDTH, subsequent_indent="      ") for line in lines)


def _filled(text: str) -> str:
    return fill(plain(text), WIDTH)
