"""Reasons in words: the one module that turns the data of a reason into sentences."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from league.rules import weights
from league.rules.figures import (
    and_list,
    capital,
    counted,
    number_word,
    ordinal,
    ordinal_word,
    points_said,
    points_written,
)
from league.rules.headlines import headline, table_headline
from league.rules.lines import Points, Reason
from league.rules.notice import sentences
from league.rules.policies import written
from league.rules.splits import rung_figures, say_rung, say_split
from league.rules.statuses import score_rule
from league.rules.weights import Unit
from league.rules.what_if_words import (
    say_alone,
    say_moved,
    say_orders,
    what_if_headline,
)

__all__ = [
    "and_list",
    "arithmetic",
    "headline",
    "number_word",
    "ordinal",
    "ordinal_word",
    "points_said",
    "points_written",
    "rung_figures",
    "say",
    "say_alone",
    "say_nets",
    "say_orders",
    "say_rung",
    "say_split",
    "sentences",
    "table_headline",
    "what_if_headline",
]


def say(reason: Reason, unit: Unit) -> str:
    """
    The reason in a sentence or two.

    >>> say(Reason("placed", {"place": 1, "size": 6, "section": "A", "points": 6}), Unit.LB_OZ)
    '1st of 6 in section A: 6 points.'
    """
    facts = reason.facts
    return SAID[reason.rule](facts, unit) + _penalty(facts)


def arithmetic(reason: Reason) -> str:
    """The sum behind the figure, (4 + 3) ÷ 2 = 3½ say; empty where there is none to do."""
    return SUMS[reason.rule](reason.facts) if reason.rule in SUMS else ""


def say_nets(nets: Sequence[int], counted: Sequence[int], unit: Unit) -> str:
    """The nets as they add up, each as it counts: 19-10 + 11-12 = 31-6."""
    if not nets:
        return ""
    if len(nets) == 1 and nets == counted:
        return "One net."
    parts = [
        weights.written(counts, unit)
        if counts == net
        else f"{weights.written(counts, unit)} (of {weights.written(net, unit)})"
        for net, counts in zip(nets, counted, strict=True)
    ]
    if len(parts) == 1:
        return f"{parts[0]} counts."
    return f"{' + '.join(parts)} = {weights.written(sum(counted), unit)}"


def _where(facts: Mapping[str, Any]) -> str:
    return f"in section {facts['section']}" if facts["section"] else "in the match"


def _placed(facts: Mapping[str, Any], unit: Unit) -> str:
    return (
        f"{ordinal(facts['place'])} of {facts['size']} {_where(facts)}: "
        f"{points_said(facts['points'])}."
    )


def _equal(facts: Mapping[str, Any], unit: Unit) -> str:
    pegs = and_list([str(peg) for peg in facts["pegs"]])
    places = and_list([ordinal_word(place) for place in range(facts["place"], facts["last"] + 1)])
    at = (
        f"{weights.written(facts['weight'], unit)} at pegs {pegs}" if len(facts["pegs"]) > 1 else ""
    )
    shared = EQUAL[facts["equal"]].format(
        places=places, better=ordinal_word(facts["place"]), worse=ordinal_word(facts["last"])
    )
    said = f"{capital(shared)} {_where(facts)}: {points_said(facts['points'])}."
    return f"{at}. {said}" if at else said


EQUAL = {
    "average": "equal weights share the places they take, here {places}",
    "better": "equal weights all take the better place, here {better},",
    "worse": "equal weights all take the worse place, here {worse},",
}


def _override(facts: Mapping[str, Any], unit: Unit) -> str:
    place = ordinal_word(facts["match_place"])
    return (
        f"{capital(place)} of the whole match, which scores in place of "
        f"{ordinal(facts['place'])} {_where(facts)}: {points_said(facts['points'])}."
    )


STATUS_SUBJECTS = {
    "blank": "A blank",
    "not weighed": "Did not weigh:",
    "withdrew": "Withdrew:",
    "absent": "Absent:",
    "vacant": "Nobody named:",
    "disqualified": "Disqualified:",
}


def _status(status: str, key: str) -> Callable[[Mapping[str, Any], Unit], str]:
    def said(facts: Mapping[str, Any], unit: Unit) -> str:
        points = facts["points"]
        if status == "blank":
            nets = facts.get("nets")
            if nets:
                gone = " + ".join(weights.written(net, unit) for net in nets)
                return f"Nothing counts of {gone}: as a blank, {points_said(points)}."
            if points == 0:
                return "A blank scores nothing."
            if facts["with_fish"] == 0:
                return f"Nobody had a fish {_where(facts)}: {_scored(facts, key)}."
            return f"A blank {_where(facts)} scores {_scored(facts, key)}."
        subject = STATUS_SUBJECTS[status]
        if points == 0:
            return f"{subject.rstrip(':')} scores nothing."
        return f"{subject} {_scored(facts, key)} {_where(facts)}."

    return said


def _scored(facts: Mapping[str, Any], key: str) -> str:
    rule = score_rule(key, facts["score"])
    if isinstance(facts["score"], (int, float)) or facts["points"] is None:
        return points_said(facts["points"]) if facts["points"] is not None else rule.words
    return f"{rule.words}, {points_said(facts['points'])}"


def _short(facts: Mapping[str, Any], unit: Unit) -> str:
    return f"One short {_where(facts)}: shown as absent, {points_said(facts['points'])}."


def _decided(facts: Mapping[str, Any], unit: Unit) -> str:
    decision = f" {facts['decision']}" if facts["decision"] else ""
    return f"{points_said(facts['points']).capitalize()} by an official decision.{decision}"


def _team(facts: Mapping[str, Any], unit: Unit) -> str:
    left_out = [
        angler or "absent"
        for angler, counts in zip(facts["anglers"], facts["counts"], strict=True)
        if not counts
    ]
    said = f"{_team_sum(facts)} {'point' if facts['points'] == 1 else 'points'}."
    return f"{said} Not counted: {and_list(left_out)}." if left_out else said


def _team_sum(facts: Mapping[str, Any]) -> str:
    counting = [
        points
        for points, counts in zip(facts["member_points"], facts["counts"], strict=True)
        if counts
    ]
    return _sum(counting, facts["penalty"], facts["direction"], facts["points"])


def _season_sum(facts: Mapping[str, Any]) -> str:
    return _sum(facts["counting"], facts["penalty"], facts["direction"], facts["total"])


def _sum(counting: Sequence[Points], penalty: Points, direction: str, total: Points) -> str:
    said = " + ".join(written(points) for points in counting) or "0"
    if penalty:
        said += f" {'+' if direction == 'low' else '−'} {written(penalty)} penalty"
    return f"{said} = {written(total)}"


def _season(facts: Mapping[str, Any], unit: Unit) -> str:
    if facts["score"] == "weight":
        rounds = counted(len(facts["counting"]), "round")
        said = f"{weights.written(facts['total'], unit)} over {rounds}."
    else:
        said = f"{_season_sum(facts)}."
    dropped = [
        f"round {number} ({_score(score, facts['score'], unit)})"
        for number, score in facts["dropped"]
    ]
    if dropped:
        said += f" Dropped: {and_list(dropped)}."
    if not facts["qualified"]:
        fished = number_word(facts["fished"]) if facts["fished"] else "none"
        said += f" Fished {fished} of the {number_word(facts['minimum'])} rounds needed."
    return " ".join((said, *facts.get("decisions", ())))


def _score(score: Points, counted_in: str, unit: Unit) -> str:
    if counted_in == "weight":
        return weights.written(int(score), unit)
    return points_written(score)


def _penalty(facts: Mapping[str, Any]) -> str:
    """What a penalty makes of an angler's points; teams and seasons have theirs in the sum."""
    if "total" not in facts or "direction" not in facts or "section" not in facts:
        return ""
    if "penalty" not in facts:
        return ""
    sign = "added" if facts["direction"] == "low" else "taken off"
    points, total = points_said(facts["penalty"]), points_said(facts["total"])
    return f" {capital(points)} of penalty {sign}: {total}."


SAID: dict[str, Callable[[Mapping[str, Any], Unit], str]] = {
    "placed": _placed,
    "equal": _equal,
    "override": _override,
    "blank": _status("blank", "blank"),
    "not weighed": _status("not weighed", "not_weighed"),
    "withdrew": _status("withdrew", "withdrew"),
    "absent": _status("absent", "absent"),
    "vacant": _status("vacant", "vacant"),
    "disqualified": _status("disqualified", "disqualified"),
    "short": _short,
    "decided": _decided,
    "team": _team,
    "season": _season,
    "moved": say_moved,
}


def _mean_sum(facts: Mapping[str, Any]) -> str:
    places = facts["places"]
    if facts["equal"] != "average":
        return written(facts["points"])
    said = " + ".join(written(points) for points in places)
    return f"({said}) ÷ {len(places)} = {written(facts['points'])}"


def _placed_sum(facts: Mapping[str, Any]) -> str:
    return (
        f"{capital(ordinal_word(facts['place']))} of {facts['size']} = {written(facts['points'])}"
    )


def _blank_sum(facts: Mapping[str, Any]) -> str:
    points, first, last = facts["points"], facts["with_fish"] + 1, facts["size"]
    if facts["score"] == "half sum":
        first -= 1
    # A cap, or a scale with steps, makes another sum of it than the two ends show.
    if facts["score"] in ("average of the rest", "half sum") and 2 * points == first + last:
        return f"({first} + {last}) ÷ 2 = {written(points)}"
    return points_written(points)


def _status_sum(facts: Mapping[str, Any]) -> str:
    return points_written(facts["points"])


SUMS: dict[str, Callable[[Mapping[str, Any]], str]] = {
    "placed": _placed_sum,
    "equal": _mean_sum,
    "blank": _blank_sum,
    "team": _team_sum,
    "season": _season_sum,
    **dict.fromkeys(
        ("not weighed", "withdrew", "absent", "vacant", "disqualified", "short", "decided"),
        _status_sum,
    ),
}
