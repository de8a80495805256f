"""Waters, pegs, money and changed rules leave with the sheets, as plain files."""

from __future__ import annotations

import csv
import datetime as dt
import json
from io import StringIO

from django.contrib.auth.models import User

from league.models import Club
from league.operations.money import put_off
from league.operations.payouts import fix_payouts
from league.operations.publish import publish
from league.operations.unload import unload
from league.operations.waters import change_water, make_water, take_out
from league.rules.bank import parse_pegs
from tests.money_scene import match_with_pools, on_peg, pay


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(text)))


def test_what_is_said_of_waters_and_of_pegs_out_of_use_leaves_too(club: Club, sam: User) -> None:
    water = make_water(club, venue="Marl Park", name="Heron Lake", pegs=parse_pegs("1-4"), by=sam)
    change_water(
        water, name="Heron Lake", net_limit="50 lb, carp 80 lb", usual_sections="1-2\n3-4", by=sam
    )
    take_out(water, ["3"], why="Nesting swans", ends=dt.date(2027, 5, 31), by=sam)

    files = dict(unload(club))

    [lake] = rows(files["waters.csv"])
    assert (lake["water"], lake["net_limit"]) == ("Heron Lake", "50 lb, carp 80 lb")
    assert lake["usual_sections"].split() == ["1-2", "3-4"]
    out = [(peg["peg"], peg["left_out_why"], peg["out_until"]) for peg in rows(files["pegs.csv"])]
    assert out == [
        ("1", "", ""), ("2", "", ""), ("3", "Nesting swans", "2027-05-31"), ("4", "", ""),
    ]  # fmt: skip


def test_every_line_of_money_leaves_to_the_penny_with_what_was_announced_and_paid_out(
    club: Club, sam: User
) -> None:
    match = match_with_pools(club, by=sam)
    pay(match, 1, 2, 3, 4, 5, by=sam)
    put_off(on_peg(match, 6), by=sam)
    publish(match, by=sam)
    fix_payouts(match, by=sam)

    files = dict(unload(club))

    lines = rows(files["money.csv"])
    assert [line["in"] for line in lines if line["in"]] == ["10.00"] * 5
    assert [(line["what"], line["owed"]) for line in lines if line["owed"]] == [("Stake", "10.00")]
    folder = next(name for name in files if name.endswith("/pools.json")).rsplit("/", 1)[0]
    assert json.loads(files[f"{folder}/pools.json"])["stake"] == 1000
    assert "settlement" in json.loads(files[f"{folder}/payouts-1.json"])
