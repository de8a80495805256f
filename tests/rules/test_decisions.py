"""Official decisions and odd statuses: the only figures ever typed in, shown where they count."""

from fractions import Fraction

from league.rules.lines import Status
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.words import say
from tests.rows import book, line_of, row, section


def line(result, who):
    return next(each for part in result.sections for each in part.lines if each.row.angler == who)


def test_points_decided_for_a_void_peg_stand_in_place_of_the_sections():
    rows = [
        row("Ana", 900),
        row("Bo", 800),
        row("Cy", 100, decided=Fraction(5, 2), decision="Peg 3 could not be fished."),
        row("Di", 50),
    ]

    result = score_match(rows, book())

    cy = line(result, "Cy")
    assert (cy.place, cy.points, cy.weight) == (None, Fraction(5, 2), 100)
    assert line(result, "Di").points == 3  # moves up; the peg still counts in the four
    assert result.sections[0].size == 4
    assert say(cy.reason, result.unit) == (
        "2½ points by an official decision. Peg 3 could not be fished."
    )


def test_a_weight_penalty_comes_off_before_anybody_is_placed():
    rows = [row("Ana", [500, 450], weight_penalty=200), row("Bo", 800)]

    result = score_match(rows, book())

    assert [each.row.angler for each in result.sections[0].lines] == ["Bo", "Ana"]
    assert line(result, "Ana").weight == 750
    assert line(result, "Ana").counted == (500, 450)


def test_a_weight_penalty_never_goes_below_nothing_and_leaves_a_blank():
    result = score_match([row("Ana", 100, weight_penalty=200), row("Bo", 800)], book())

    assert (line(result, "Ana").weight, line(result, "Ana").status) == (0, Status.BLANK)


def test_penalty_points_are_added_in_low_and_taken_off_in_high():
    rows = [row("Ana", 900, penalty=2), row("Bo", 800)]

    low = score_match(rows, book())
    high = score_match(rows, book(section={"direction": "high", "blank": 0}))

    assert (line(low, "Ana").before_penalty, line(low, "Ana").points) == (1, 3)
    assert (line(high, "Ana").before_penalty, line(high, "Ana").points) == (2, 0)
    assert say(line(low, "Ana").reason, low.unit) == (
        "1st of 2 in section A: 1 point. 2 points of penalty added: 3 points."
    )


def test_a_members_penalty_counts_even_where_the_members_points_do_not():
    rows = [
        row(
            f"{team}{name}", weight, name, team=team, penalty=5 if (team, name) == ("X", "B") else 0
        )
        for name, weights in {"A": (9, 8), "B": (7, 9)}.items()
        for team, weight in zip("XY", weights, strict=True)
    ]

    result = score_match(rows, book(team={"size": 2, "count": 1}))

    x = next(team for team in result.teams if team.team == "X")
    assert (x.points, x.penalty, x.left_out) == (1 + 5, 5, ("XB",))


def test_of_two_members_a_team_was_short_of_one_can_count_and_the_other_not():
    rows = [row("X1", 900, "A", team="X"), row("Y1", 800, "A", team="Y"),
            row("Y2", 800, "B", team="Y"), row("Y3", 800, "C", team="Y"),
            row("Z", 1, "C")]  # fmt: skip

    result = score_match(rows, book(team={"size": 3, "count": 2}))

    x = next(team for team in result.teams if team.team == "X")
    assert [each.points for each in x.short] == [2, 3]
    assert x.reason.facts["counts"] == (True, True, False)
    assert say(x.reason, result.unit) == "1 + 2 = 3 points. Not counted: absent."


def test_a_disqualified_weight_is_struck_from_angler_and_team():
    rows = [
        row("Ana", 900, team="X", status=Status.DISQUALIFIED),
        row("Bo", 800, team="Y"),
    ]

    result = score_match(rows, book(team={"size": 1}))

    ana = line(result, "Ana")
    assert (ana.place, ana.weight, ana.points, ana.row.nets) == (None, 0, 3, (900,))
    assert {team.team: team.weight for team in result.teams} == {"X": 0, "Y": 800}
    assert [(each.angler, each.place) for each in result.anglers] == [("Bo", 1), ("Ana", None)]


def test_a_weight_taken_before_leaving_stands():
    rows = [row("Ana", 900, status=Status.WITHDREW), row("Bo", 800), row("Cy", "withdrew")]

    result = score_match(rows, book())

    assert [(each.row.angler, each.points) for each in result.sections[0].lines] == [
        ("Ana", 1), ("Bo", 2), ("Cy", 3),
    ]  # fmt: skip
    assert line(result, "Ana").status == Status.WITHDREW


def test_a_vacant_place_is_no_part_of_the_sections_size():
    rows = [row("Ana", 900, team="X"), row("", "vacant", team="Y", peg="2")]

    result = score_match(rows, book(team={"size": 1}))

    assert result.sections[0].size == 1
    assert [each.points for each in result.sections[0].lines] == [1, 2]
    assert score_season([(1, result)], book()).anglers[0].name == "Ana"
    assert len(score_season([(1, result)], book()).anglers) == 1


def test_a_season_penalty_by_decision_goes_on_the_team():
    rows = [row("Ana", 900, team="X"), row("Bo", 800, team="Y")]
    rules = book(team={"size": 1})

    season = score_season([(1, score_match(rows, rules))], rules, penalties={"X": 3})

    assert [(each.name, each.penalty, each.total) for each in season.table] == [
        ("Y", 0, 2), ("X", 3, 4),
    ]  # fmt: skip
    assert line_of(season, "Ana").penalty == 0


def test_places_come_from_the_match_so_a_penalty_moves_the_place_and_not_the_total():
    rows = [row("Ana", 900, team="X", penalty=5), row("Bo", 800, team="Y")]
    rules = book(team={"size": 1}, season={"score": "places"})

    season = score_season([(1, score_match(rows, rules))], rules)

    assert [(each.name, each.total, each.penalty) for each in season.table] == [
        ("Y", 1, 0), ("X", 2, 0),
    ]  # fmt: skip


def test_a_team_that_fished_nobody_scores_worse_than_last_in_places():
    rows = [
        *(row(f"{team}{n}", 900 - n, "A", team=team, peg=f"{team}{n}")
          for n, team in enumerate(("X", "Y"))),
        row("Z9", "absent", "A", team="Z"),
    ]  # fmt: skip
    low = book(team={"size": 1}, season={"score": "places"})
    high = book(
        section={"direction": "high", "blank": 0, "absent": 0},
        team={"size": 1},
        season={"score": "places"},
    )

    for rules, expected in ((low, {"X": 1, "Y": 2, "Z": 4}), (high, {"X": 3, "Y": 2, "Z": 0})):
        season = score_season([(1, score_match(rows, rules))], rules)
        assert {each.name: each.total for each in season.table} == expected
        assert {each.name: each.rounds[0].status for each in season.table}["Z"] == "absent"
        assert {each.name: each.rounds[0].place for each in season.table} == {
            "X": 1, "Y": 2, "Z": None,
        }  # fmt: skip


def test_a_team_that_missed_the_round_altogether_is_absent_in_every_section():
    first = [*section([900, 800], "A"), *section([900, 800], "B")]
    first = [
        row(f"{t}{name}", weight, name, team=t)
        for name in "AB"
        for t, weight in (("X", 900), ("Y", 800), ("Z", 700))
    ]
    second = [each for each in first if each.team != "Z"]
    rules = book(team={"size": 2})

    season = score_season([(n, score_match(r, rules)) for n, r in ((1, first), (2, second))], rules)

    z = next(each for each in season.table if each.name == "Z")
    assert [each.score for each in z.rounds] == [6, 6]  # 3 + 3, then one more than two, twice
    assert z.rounds[1].status == "absent"


def test_a_member_without_a_score_never_helps_a_team_in_low_points():
    rows = [
        row("X1", 900, "A", team="X"),
        row("Y1", 800, "A", team="Y"),
        row("X2", "absent", "B", team="X"),
        row("Y2", 800, "B", team="Y"),
    ]

    result = score_match(rows, book(section={"absent": "no score"}, team={"size": 2}))

    assert line(result, "X2").points is None
    assert [(team.team, team.points) for team in result.teams] == [("Y", 3), ("X", 4)]


def test_a_match_without_sections_is_said_so():
    result = score_match([row("Ana", 900, ""), row("Bo", "blank", "")], book())

    assert say(line(result, "Ana").reason, result.unit) == "1st of 2 in the match: 1 point."


def test_a_section_of_one_is_scored():
    assert line(score_match([row("Ana", 900)], book()), "Ana").points == 1
    assert line(score_match([row("Ana", "blank")], book()), "Ana").points == 1


def test_an_empty_match_is_no_trouble():
    result = score_match([], book())

    assert (result.sections, result.teams, result.anglers) == ((), (), ())
    assert score_season([(1, result)], book()).table == ()
