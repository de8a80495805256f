"""
How fast a season is scored, as ratios against limits timed in the same run.

    python -m tests.benchmarks.scoring [--quick]

Each ratio is the median of pairs (limit, ours, limit, ours ...) in CPU time, with the lowest and
the highest behind it. Every answer is checked against pandas and numpy before anything is timed.
The standings are places and points; reasons are made when somebody reads them, and timed apart.
"""

from __future__ import annotations

import gc
import os
import random
import sqlite3
import statistics
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from league.files.rulebook import from_dict
from league.rules.lines import Row
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.standings import standings
from league.rules.table import score_season
from league.rules.words import say

PAIRS = 11
SAMPLE = 0.02  # seconds of CPU a sample should take
DROPPED = 2
LETTERS = "ABCDEFGH"
QUIET = 0.08  # of the processors; more than that used by others disturbs

Figures = list[tuple[int, str, str, int]]
Columns = tuple[Any, Any, Any, Any, Any]


def league(rounds: int, sections: int, teams: int, seed: int) -> Figures:
    """A made-up league: skewed weights, one angler in seven blanks, in no order."""
    dice = random.Random(seed)
    rows = [
        (
            number,
            LETTERS[section],
            f"Team {team:02d}",
            0 if dice.random() < 1 / 7 else int(dice.lognormvariate(8.5, 0.9)),
        )
        for number in range(1, rounds + 1)
        for section in range(sections)
        for team in range(teams)
    ]
    dice.shuffle(rows)
    # Made afresh in the order they stand in, as rows are that a database hands over.
    return [(number, section, team, weight) for number, section, team, weight in rows]


def book(sections: int) -> Rulebook:
    """Averaged low points, the worst two rounds dropped."""
    return from_dict({"team": {"size": sections}, "season": {"drop": DROPPED}})


def nation(leagues: list[Figures]) -> list[tuple[int, int, str, str, int]]:
    """All the leagues in one list, each row with the number of its league in front."""
    return [(number, *row) for number, rows in enumerate(leagues) for row in rows]


def by_pandas(rows: list[tuple[int, int, str, str, int]]) -> list[tuple[int, str, float]]:
    """The tables of all the leagues by pandas, from the same rows."""
    frame = pd.DataFrame(rows, columns=["league", "round", "section", "team", "weight"])
    in_section = frame.groupby(["league", "round", "section"])["weight"]
    frame["points"] = in_section.rank(ascending=False)
    teams = frame.groupby(["league", "team", "round"])["points"].sum().reset_index()
    of_team = ["league", "team"]
    worst = teams.groupby(of_team)["points"].rank(ascending=False, method="first")
    totals = teams[worst > DROPPED].groupby(of_team)["points"].sum()
    weights = frame.groupby(of_team)["weight"].sum()
    table = pd.DataFrame({"points": totals, "weight": weights}).reset_index()
    table = table.sort_values(["league", "points", "weight"], ascending=[True, True, False])
    return list(zip(table["league"], table["team"], table["points"], strict=True))


def arrays(rows: list[tuple[int, int, str, str, int]]) -> Columns:
    """The columns as arrays, for the numpy limit, which has them in memory already."""
    return (
        np.array([row[0] for row in rows]),
        np.array([row[1] for row in rows]),
        np.array([LETTERS.index(row[2]) for row in rows]),
        np.array([int(row[3].removeprefix("Team ")) for row in rows]),
        np.array([row[4] for row in rows]),
    )


def by_numpy(columns: Columns) -> tuple[Any, Any]:
    """The same tables by one lexsort and a few sums: (league, team) in order, doubled totals."""
    leagues, numbers, sections, teams, weights = columns
    order = np.lexsort((-weights, sections, numbers, leagues))
    keys = (leagues[order], numbers[order], sections[order])
    group = np.r_[True, np.any([key[1:] != key[:-1] for key in keys], axis=0)]
    w = weights[order]
    block = group | np.r_[True, w[1:] != w[:-1]]
    start = np.maximum.accumulate(np.where(group, np.arange(len(w)), 0))
    first = np.flatnonzero(block)
    last = np.r_[first[1:], len(w)] - 1
    which = np.cumsum(block) - 1
    points = first[which] + last[which] - 2 * start + 2
    rounds, count = int(numbers.max()), int(teams.max()) + 1
    competitors = leagues * count + teams
    totals = np.zeros((int(competitors.max()) + 1, rounds), dtype=np.int64)
    np.add.at(totals, (competitors[order], numbers[order] - 1), points)
    total = np.sort(totals, axis=1)[:, : rounds - DROPPED].sum(axis=1)
    weight = np.bincount(competitors, weights=weights)
    league = np.arange(len(total)) // count
    return np.lexsort((-weight, total, league)), total


def sample(run: Callable[[], object], times: int) -> float:
    """CPU seconds of one run, over *times* of them."""
    gc.collect()
    start = time.process_time()
    for _ in range(times):
        run()
    return (time.process_time() - start) / times


def times_for(run: Callable[[], object]) -> int:
    """How often to run so that a sample takes about as long as it should."""
    return max(1, round(SAMPLE / max(sample(run, 1), 1e-6)))


def ratio(
    name: str, bound: str, ours: Callable[[], object], limit: Callable[[], object], pairs: int
) -> None:
    """Print the ratio of *ours* over *limit*."""
    ours_times, limit_times = times_for(ours), times_for(limit)
    found = []
    for _ in range(pairs):
        against = sample(limit, limit_times)
        found.append(sample(ours, ours_times) / against)
    tell(name, bound, found)


def tell(name: str, bound: str, found: list[float]) -> None:
    """One line: the median, the lowest and the highest, and the goal."""
    middle = statistics.median(found)
    print(f"{name:<58} {middle:6.3f} [{min(found):.3f}-{max(found):.3f}]  goal {bound}")  # noqa: T201


def growth(name: str, bound: str, leagues: list[Figures], rules: Rulebook, pairs: int) -> None:
    """Print the time of all the *leagues* over the mean of each on its own."""
    times = times_for(lambda: standings(leagues[0], rules))
    found = []
    for _ in range(pairs):
        alone = [sample(lambda rows=rows: standings(rows, rules), times) for rows in leagues]
        together = sample(lambda: national(leagues, rules), max(1, times // len(leagues)))
        found.append(together / statistics.mean(alone))
    tell(name, bound, found)


def check(leagues: list[Figures], rules: Rulebook) -> None:
    """Stop where the answers differ: teams, order and totals, by three ways of working them out."""
    rows = nation(leagues)
    ours = [
        (number, line.team, float(line.total))
        for number, figures in enumerate(leagues)
        for line in standings(figures, rules)
    ]
    if ours != by_pandas(rows):
        sys.exit("pandas has another table: nothing is timed.")
    order, totals = by_numpy(arrays(rows))
    if [total for _, _, total in ours] != [float(totals[each]) / 2 for each in order]:
        sys.exit("numpy has another table: nothing is timed.")


def national(leagues: Iterable[Figures], rules: Rulebook) -> None:
    """Every league of the country, one after the other."""
    for rows in leagues:
        standings(rows, rules)


def match_rows(figures: Figures) -> list[list[Row]]:
    """The same league as rows for the whole engine, round by round."""
    rounds: dict[int, list[Row]] = {}
    for number, section, team, weight in sorted(figures):
        name = f"{team} {section}"
        rounds.setdefault(number, []).append(Row(section, name, name, team, nets=(weight,)))
    return [rounds[number] for number in sorted(rounds)]


def whole_engine(rounds: list[list[Row]], rules: Rulebook) -> object:
    """Everything worked out: lines, splits, tables of teams and anglers, with reasons as data."""
    scored = [(number, score_match(rows, rules)) for number, rows in enumerate(rounds, 1)]
    return score_season(scored, rules)


def read_every_reason(season: Any) -> None:
    """Every angler's reason put into words."""
    for _, result in season.rounds:
        for section in result.sections:
            for line in section.lines:
                say(line.reason, result.unit)


def database(leagues: list[Figures]) -> sqlite3.Connection:
    """All the leagues in one table of an ordinary SQLite file kept in memory."""
    kept = sqlite3.connect(":memory:")
    kept.execute("CREATE TABLE catch (league, round, section, team, weight)")
    kept.executemany(
        "INSERT INTO catch VALUES (?, ?, ?, ?, ?)",
        # Rows of one league lie scattered, as they come in week by week.
        (
            (number, *rows[index])
            for index in range(max(map(len, leagues)))
            for number, rows in enumerate(leagues)
            if index < len(rows)
        ),
    )
    kept.execute("CREATE INDEX by_league ON catch (league, round, section, team, weight)")
    return kept


def fetched(kept: sqlite3.Connection, number: int, rules: Rulebook) -> object:
    """One league read and scored."""
    rows = kept.execute(
        "SELECT round, section, team, weight FROM catch WHERE league = ?", (number,)
    ).fetchall()
    return standings(rows, rules)


def main(*, quick: bool) -> None:
    """Print every ratio."""
    pairs = 3 if quick else PAIRS
    small, big = league(10, 4, 10, 1), league(12, 8, 24, 2)
    small_book, big_book = book(4), book(8)
    ten = [league(12, 8, 24, seed) for seed in range(2, 12)]
    many = [league(10, 8, 24, seed) for seed in range(52 if quick else 521)]
    check([small], small_book)
    check(many, big_book)
    one_small, one_big, every = nation([small]), nation([big]), nation(many)
    columns = arrays(every)
    slow = min(pairs, 5)

    ratio("S1 small league / sorted(rows)", "<= 5", lambda: standings(small, small_book),
          lambda: sorted(small), pairs)  # fmt: skip
    ratio("S1 big league / sorted(rows)", "<= 3.5", lambda: standings(big, big_book),
          lambda: sorted(big), pairs)  # fmt: skip
    ratio("S2 small league / pandas from rows", "<= 0.1", lambda: standings(small, small_book),
          lambda: by_pandas(one_small), pairs)  # fmt: skip
    ratio("S2 big league / pandas from rows", "<= 0.4", lambda: standings(big, big_book),
          lambda: by_pandas(one_big), pairs)  # fmt: skip
    ratio(f"S2 {len(every)} weigh-ins, by league / pandas from rows", "<= 1.5",
          lambda: national(many, big_book), lambda: by_pandas(every), slow)  # fmt: skip
    ratio(f"S3 {len(every)} weigh-ins, by league / numpy in memory", "<= 6",
          lambda: national(many, big_book), lambda: by_numpy(columns), slow)  # fmt: skip
    growth("S4 ten big leagues / one", "<= 10.5", ten, big_book, slow)
    among, alone = database(many), database(many[:1])
    ratio(f"S4 one league fetched among {len(many)} / alone", "<= 2.5",
          lambda: fetched(among, 0, big_book),
          lambda: fetched(alone, 0, big_book), pairs)  # fmt: skip
    rounds = match_rows(big)
    season: Any = whole_engine(rounds, big_book)
    ratio("   big league with lines, splits and reasons / standings", "none set",
          lambda: whole_engine(rounds, big_book),
          lambda: standings(big, big_book), slow)  # fmt: skip
    ratio("   reasons of the big league in words / standings", "none set",
          lambda: read_every_reason(season), lambda: standings(big, big_book), slow)  # fmt: skip


def busy() -> float:
    """Seconds of CPU the whole machine has worked since it started, where Linux tells."""
    try:
        fields = Path("/proc/stat").read_text().split("\n", 1)[0].split()[1:]
    except OSError:
        return 0.0
    idle_and_waiting = {3, 4}
    ticks = sum(int(each) for n, each in enumerate(fields[:8]) if n not in idle_and_waiting)
    return ticks / os.sysconf("SC_CLK_TCK")


if __name__ == "__main__":
    begun, machine, ours = time.monotonic(), busy(), time.process_time()
    main(quick="--quick" in sys.argv[1:])
    others = busy() - machine - (time.process_time() - ours)
    share = max(0.0, others / ((time.monotonic() - begun) * (os.cpu_count() or 1)))
    noisy = " The machine was noisy." if share > QUIET else ""
    print(f"Others used {share:.0%} of the processors meanwhile.{noisy}")  # noqa: T201
