"""What lies beside the sheets of a club's record: its waters, pegs, money, changed rules."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO

from django.utils import timezone

from league.files.csv_text import shielded
from league.models import (
    Club,
    Match,
    Payment,
    PaymentKind,
    PayoutSheet,
    Peg,
    Pools,
    RulesChange,
    Season,
    Water,
)
from league.operations.money import what_of
from league.operations.money_season import entered
from league.rules.figures import capital

# A file by its path inside the club's folder, and what it holds.
File = tuple[str, str]


def waters_csv(club: Club) -> str:
    """Every water with what its venue says of it."""
    return as_csv(
        "venue,water,net_limit,usual_sections,venue_rules,note_for_bailiff",
        (
            (
                water.venue.name,
                water.name,
                water.net_limit,
                water.usual_sections,
                water.venue.rules,
                water.venue.note_for_bailiff,
            )
            for water in Water.objects.of(club)
        ),
    )


def pegs_csv(club: Club) -> str:
    """Every peg in bank order, with what is said of it."""
    pegs = Peg.objects.by_water_of(club)
    return as_csv(
        "venue,water,peg,gap_after,easy_access,left_out,left_out_why,hazards,out_from,out_until",
        (
            (
                water.venue.name,
                water.name,
                peg.number,
                _yes(peg.gap_after),
                _yes(peg.easy_access),
                _yes(peg.left_out),
                peg.left_out_why,
                peg.hazards,
                peg.out_from.isoformat() if peg.out_from else "",
                peg.out_until.isoformat() if peg.out_until else "",
            )
            for water in Water.objects.of(club)
            for peg in pegs.get(water.pk, ())
        ),
    )


def money_csv(club: Club) -> str:
    """Every line of money of every match, in pounds: came in, went out, or owed."""
    matches = list(Match.objects.of(club))
    lines = [
        (each.match, each.what, each.who, each.came, each.went, 0, each.by, each.at)
        for each in entered(matches)
    ]
    lines += [
        (each.match, capital(what_of(each.what)), each.entry.angler.name, 0, 0, each.pence,
         str(each.by or ""), each.at)
        for each in Payment.objects.of_matches(matches).with_match()
        if each.kind == PaymentKind.OWED
    ]  # fmt: skip
    lines.sort(key=lambda line: (line[0].date, line[0].pk, line[-1]))
    return as_csv(
        "date,round,match,what,who,in,out,owed,by,at",
        (
            (
                match.date.isoformat(),
                str(match.round or ""),
                match.title,
                what,
                who,
                *(f"{pence // 100}.{pence % 100:02d}" if pence else "" for pence in sums),
                by,
                timezone.localtime(at).isoformat(timespec="seconds"),
            )
            for match, what, who, *sums, by, at in lines
        ),
    )


def pools_of_season(season: Season, folder: str) -> Iterator[File]:
    """What is announced for every round, and what was changed in the rules once it had begun."""
    if pools := Pools.objects.of_season(season):
        yield f"{folder}/pools.json", as_json(pools.plan)
    changes = [
        {
            "at": timezone.localtime(each.at).isoformat(timespec="seconds"),
            "after_round": each.after_round,
            "by": str(each.by or ""),
            "why": each.why,
            "moved": each.moved,
            "was": each.was,
            "becomes": each.becomes,
        }
        for each in RulesChange.objects.of(season)
    ]
    if changes:
        yield f"{folder}/rules-changes.json", as_json(changes)


def pools_of_match(match: Match, folder: str) -> Iterator[File]:
    """What is announced for this match alone, and every sheet of payouts as it was fixed."""
    pools = Pools.objects.of_match(match)
    if pools and pools.match_id == match.pk:
        yield f"{folder}/pools.json", as_json(pools.plan)
    for sheet in PayoutSheet.objects.of(match):
        yield f"{folder}/payouts-{sheet.number}.json", as_json(sheet.document)


def as_csv(headings: str, rows: Iterable[Sequence[str]]) -> str:
    """A file that any spreadsheet opens, and no cell of which it takes for a formula."""
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow(headings.split(","))
    writer.writerows([shielded(cell) for cell in row] for row in rows)
    return text.getvalue()


def as_json(document: object) -> str:
    """A document as any program reads it."""
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def _yes(fact: bool) -> str:
    return "yes" if fact else ""
