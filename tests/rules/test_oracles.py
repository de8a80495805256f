"""Sections and seasons worked out a second time by scipy and pandas, with none of our code."""

from __future__ import annotations

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import rankdata

from league.rules.lines import Row, Status
from league.rules.matches import score_match
from league.rules.placings import runs
from league.rules.standings import standings
from league.rules.table import score_season
from tests.examples import tried
from tests.rows import book, places_of, scored

CATCHES = st.lists(st.integers(0, 12).map(lambda n: n * 100), min_size=1, max_size=30)


def as_caught(weights: list[int]) -> list[int | str]:
    return [weight or "blank" for weight in weights]


@pytest.mark.parametrize(
    ("equal", "blank", "method"),
    [
        ("average", "average of the rest", "average"),
        ("better", "F+1", "min"),
        ("worse", "last place", "max"),
    ],
)
@tried(60, 3000)
@given(weights=CATCHES)
def test_points_are_the_ranks_that_scipy_gives_blanks_being_level_at_nothing(
    equal, blank, method, weights
):
    rules = book(section={"equal": equal, "blank": blank})

    points = scored(as_caught(weights), rules)

    assert [float(each) for each in points] == list(
        rankdata([-weight for weight in weights], method=method)
    )


@tried(60, 3000)
@given(weights=CATCHES)
def test_places_are_scipys_lowest_ranks_and_runs_its_dense_ones(weights):
    rows = [Row("A", str(n), str(n), nets=(weight,)) for n, weight in enumerate(weights)]
    ordered = sorted(weights, reverse=True)

    places = places_of(score_match(rows, book()))

    negative = [-weight for weight in weights]
    assert [places[str(n)] for n in range(len(weights))] == list(rankdata(negative, method="min"))
    assert len(list(runs(ordered))) == max(rankdata(negative, method="dense"))


@st.composite
def seasons(draw: st.DrawFn) -> list[tuple[int, str, str, int | Status]]:
    """Rounds of sections with one member of every team in each; blanks and absents among them."""
    teams = draw(st.integers(2, 6))
    sections = draw(st.integers(1, 3))
    rounds = draw(st.integers(1, 5))
    weight = st.integers(0, 9).map(lambda n: n * 50)
    # Half the seasons are of weights and blanks alone, which have a shorter way through.
    catch = draw(st.sampled_from([weight, weight | st.sampled_from([Status.ABSENT, Status.BLANK])]))
    return [
        (number, "ABC"[section], f"T{team}", draw(catch))
        for number in range(1, rounds + 1)
        for section in range(sections)
        for team in range(teams)
    ]


BOOKS = {
    "averaged low": {"equal": "average", "blank": "average of the rest"},
    "low, last place": {"equal": "better", "blank": "last place"},
    "low, fixed absent": {"equal": "worse", "blank": "N+1", "absent": 9},
    "high": {"direction": "high", "equal": "average", "blank": 0, "absent": 0},
    "high, better": {"direction": "high", "equal": "better", "blank": 1, "absent": 0},
}
METHODS = {"average": "average", "better": "min", "worse": "max"}


def pandas_points(frame: pd.DataFrame, rules: dict) -> pd.Series:
    """Section points by pandas' own ranking of those with a weight, and one formula a status."""
    high = rules.get("direction") == "high"
    where = ["round", "section"]
    size = frame.groupby(where)["team"].transform("size")
    weighed = frame["grams"] > 0
    fish = weighed.groupby([frame["round"], frame["section"]]).transform("sum")
    method = METHODS[rules["equal"]]
    place = (
        frame["grams"]
        .where(weighed)
        .groupby([frame["round"], frame["section"]])
        .rank(ascending=False, method=method)
    )
    points = (size + 1 - place) if high else place
    blank = {
        "average of the rest": (fish + 1 + size) / 2,
        "last place": size,
        "N+1": size + 1,
    }.get(rules["blank"], rules["blank"])
    absent = rules.get("absent", size + 1)
    points = points.where(frame["status"] != "blank", blank)
    return points.where(frame["status"] != "absent", absent)


def pandas_table(rows: list, rules: dict, drop: int, score: str) -> pd.DataFrame:
    """The league table by pandas: totals after drops, weights, in order."""
    high = rules.get("direction") == "high"
    frame = pd.DataFrame(rows, columns=["round", "section", "team", "catch"])
    is_word = frame["catch"].map(lambda catch: isinstance(catch, str))
    frame["grams"] = frame["catch"].where(~is_word, 0).astype(int)
    frame["status"] = frame["catch"].where(is_word, "weighed").astype(str)
    nothing = (frame["status"] == "weighed") & (frame["grams"] == 0)
    frame.loc[nothing, "status"] = "blank"
    frame["points"] = pandas_points(frame, rules)
    frame["fished"] = frame["status"] != "absent"
    keys = ["round", "team"]
    teams = frame.groupby(keys)[["points", "grams"]].sum()
    teams["best"] = frame.groupby(keys)["grams"].max()
    teams["fished"] = frame.groupby(keys)["fished"].any()
    teams = teams.reset_index()
    if score == "places":
        by_round = [
            pandas_places(one, high, METHODS[rules["equal"]]) for _, one in teams.groupby("round")
        ]
        teams["points"] = pd.concat(by_round)
    teams = teams.sort_values(["team", "round"])
    worst = teams.groupby("team")["points"].rank(ascending=high, method="first")
    rounds = teams["round"].nunique()
    kept = teams[worst > min(drop, rounds - 1)]
    table = pd.DataFrame(
        {
            "total": kept.groupby("team")["points"].sum(),
            "weight": teams.groupby("team")["grams"].sum(),
        }
    )
    return table.sort_values(["total", "weight"], ascending=[not high, False])


def pandas_places(one: pd.DataFrame, high: bool, method: str) -> pd.Series:
    """What a round's places score: teams by points, weight, best member; last for no-shows."""
    count = len(one)
    there = one[one["fished"]]
    sign = -1 if high else 1
    key = pd.Series(
        list(zip(sign * there["points"], -there["grams"], -there["best"], strict=True)),
        index=there.index,
        dtype=object,
    )
    place = key.map({each: rank for rank, each in enumerate(sorted(set(key)))}).rank(method=method)
    scores = (count + 1 - place) if high else place
    return scores.reindex(one.index, fill_value=0 if high else count + 1)


@pytest.mark.parametrize("score", ["points", "places"])
@pytest.mark.parametrize("name", BOOKS)
@tried(12, 400)
@given(rows=seasons(), drop=st.integers(0, 3))
def test_a_whole_season_agrees_with_pandas(name, score, rows, drop):
    members = len({section for _, section, _, _ in rows})
    season = {"score": score, "ties": ["weight"], "drop": drop}
    rules = book(section=BOOKS[name], team={"size": members}, season=season)
    rounds: dict[int, list[Row]] = {}
    for number, section, team, catch in rows:
        status = catch if isinstance(catch, Status) else Status.WEIGHED
        nets = () if isinstance(catch, Status) else (catch,)
        peg = f"{section}{team}"
        rounds.setdefault(number, []).append(Row(section, peg, peg, team, status, nets))

    table = score_season([(n, score_match(r, rules)) for n, r in rounds.items()], rules).table

    theirs = pandas_table(rows, BOOKS[name], drop, score)
    ours = {line.name: (float(line.total), line.weight) for line in table}
    assert ours == {team: (line["total"], line["weight"]) for team, line in theirs.iterrows()}
    assert [(float(line.total), line.weight) for line in table] == [
        (total, weight) for total, weight in zip(theirs["total"], theirs["weight"], strict=True)
    ]


@pytest.mark.parametrize("name", BOOKS)
@tried(20, 400)
@given(rows=seasons(), drop=st.integers(0, 2))
def test_bare_standings_are_those_of_the_whole_engine(name, rows, drop):
    members = len({section for _, section, _, _ in rows})
    rules = book(section=BOOKS[name], team={"size": members}, season={"drop": drop})
    rounds: dict[int, list[Row]] = {}
    for number, section, team, catch in rows:
        status = catch if isinstance(catch, Status) else Status.WEIGHED
        nets = () if isinstance(catch, Status) else (catch,)
        peg = f"{section}{team}"
        rounds.setdefault(number, []).append(Row(section, peg, peg, team, status, nets))

    quick = standings(rows, rules)

    whole = score_season([(n, score_match(r, rules)) for n, r in rounds.items()], rules).table
    assert [(s.place, s.equal, s.team, s.total, s.weight) for s in quick] == [
        (line.place, line.equal, line.name, line.total, line.weight) for line in whole
    ]
