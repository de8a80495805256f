"""Match sheets and season sheets out: the same columns that reading takes in."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO

from league.files.csv_text import shielded
from league.files.plain import fraction
from league.files.sheet import SheetMatch
from league.rules.lines import Row, Status
from league.rules.weights import Unit, written

ALWAYS = ("section", "peg", "angler", "team", "weight")
WHERE_USED = ("penalty", "weight_penalty", "decided", "decision", "note")


def write_match(match: SheetMatch, unit: Unit) -> str:
    """One match as a match sheet."""
    return _written([match], unit, is_season=False)


def write_season(matches: Sequence[SheetMatch], unit: Unit) -> str:
    """The matches of a league, each with its round and date, as a season sheet."""
    return _written(matches, unit, is_season=True)


def _written(matches: Sequence[SheetMatch], unit: Unit, *, is_season: bool) -> str:
    rows = [(_about(match), _cells(row, unit)) for match in matches for row in match.rows]
    about = ["round", "date"] if is_season else []
    about += [
        name
        for name in ("date", "match", "venue", "water")
        if name not in about and any(said[name] for said, _ in rows)
    ]
    used = [name for name in WHERE_USED if any(cells[name] for _, cells in rows)]
    out = StringIO()
    # RFC 4180 ends lines with CR LF, and so does the csv module unless told otherwise.
    writer = csv.writer(out)
    writer.writerow([*about, *ALWAYS, *used])
    for said, cells in rows:
        row = {**said, **cells}
        writer.writerow([shielded(row[name]) for name in (*about, *ALWAYS, *used)])
    return out.getvalue()


def _about(match: SheetMatch) -> dict[str, str]:
    return {
        "round": "" if match.round is None else str(match.round),
        "date": match.date.isoformat() if match.date else "",
        "match": match.name,
        "venue": match.venue,
        "water": match.water,
    }


def _cells(row: Row, unit: Unit) -> dict[str, str]:
    return {
        "section": row.section,
        "peg": row.peg,
        "angler": row.angler,
        "team": row.team,
        "weight": _weight(row, unit),
        "penalty": (fraction(row.penalty) or "") if row.penalty else "",
        "weight_penalty": written(row.weight_penalty, unit) if row.weight_penalty else "",
        "decided": fraction(row.decided) or "",
        "decision": row.decision,
        "note": row.note,
    }


def _weight(row: Row, unit: Unit) -> str:
    nets = " + ".join(written(net, unit) for net in row.nets)
    if row.status is Status.WEIGHED:
        return nets or written(0, unit)
    if nets and row.status in (Status.WITHDREW, Status.DISQUALIFIED):
        return f"{nets} {row.status}"
    return row.status.value
