"""Money in words: what was announced, and the reason of every sum that goes out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from league.rules.figures import and_list, capital, number_word, ordinal_word
from league.rules.lines import Reason
from league.rules.pools_pence import shortly
from league.rules.pools_plan import STAKE, UNITS, GoldenPeg, Plan, Split

# Whether a club may run a pool at all is not for a program to say.
LAW = (
    "Whether pools, a golden peg or a sweepstake may be run, who may be in one, what licence or "
    "tax there is: the law and the club decide that, and it is the club's to check beforehand."
)
JUNIORS_OUT = (
    "Juniors are in no pool: they pay what does not go into pools and take no prize. Whether they "
    "may be in one is for the club and the law to say."
)


def say_money(reason: Reason) -> str:
    """
    The reason of a sum in a sentence or two.

    >>> say_money(Reason("fee", {"each": 150, "heads": 15}))
    '15 at £1.50.'
    """
    return SAID[reason.rule](reason.facts)


def _fee(facts: Mapping[str, Any]) -> str:
    return f"{facts['heads']} at {shortly(facts['each'])}."


def _place(facts: Mapping[str, Any]) -> str:
    said = f"{_covered(facts, facts.get('section', ''))} {_sum(facts)}"
    if passed := facts.get("passed"):
        said += f" By default: {and_list(passed)} {_is(passed)} paid in the frame."
    return said


def _covered(facts: Mapping[str, Any], section: str) -> str:
    """Which prize a sum is, or which prizes are shared by how many that are level."""
    if facts["level"] == 1:
        which = "Next" if facts.get("passed") else capital(ordinal_word(facts["from"]))
        return f"{which}{f' of section {section}' if section else ''}."
    many = capital(number_word(facts["level"]))
    if facts["from"] == facts["to"]:
        prizes = f"the {ordinal_word(facts['from'])} prize"
    else:
        prizes = f"the {ordinal_word(facts['from'])} to {ordinal_word(facts['to'])} prizes"
    return f"{many} level{f' in section {section}' if section else ''} share {prizes}."


def _sum(facts: Mapping[str, Any]) -> str:
    total, together = facts["total"], facts["together"]
    if facts["share"] == facts["shares"]:
        said = f"All of {shortly(total)}"
    else:
        said = f"{facts['share']} of {facts['shares']} shares of {shortly(total)}"
        if total * facts["share"] != together * facts["shares"]:
            said += f", to {UNITS[facts['unit']]}"
        said += f", {shortly(together)}" if facts["level"] == 1 else ""
    if facts["level"] > 1:
        said += f", {shortly(together // facts['level'])} each"
    return f"{said}."


def _team_place(facts: Mapping[str, Any]) -> str:
    return (
        f"{facts['team']}: {_covered(facts, '')} {_sum(facts)} "
        f"{capital(number_word(facts['of']))} of the team in the pool, shared alike."
    )


def _left(facts: Mapping[str, Any]) -> str:
    said = f"Nobody is left to take this section's {shortly(facts['money'])}"
    if facts["level"] > 1:
        return f"{said}: it goes to the winners, alike."
    return f"{said}: it goes to the winner."


def _nobody(facts: Mapping[str, Any]) -> str:
    return f"{facts['pool']}: nobody to take it."


def _spare(facts: Mapping[str, Any]) -> str:
    return f"{facts['pool']}: pence that do not split between equals."


def _golden(facts: Mapping[str, Any]) -> str:
    said = f"On golden peg {facts['peg']}, and {_feat(facts['feat'])}."
    if facts["level"] > 1:
        many = number_word(facts["level"])
        return (
            f"{said} {capital(many)} share the win: one part in {many} of {shortly(facts['fund'])}."
        )
    return f"{said} The whole fund, {shortly(facts['fund'])}."


def _carried(facts: Mapping[str, Any]) -> str:
    peg = f"Golden peg {facts['peg']}"
    return {
        "no peg": "No golden peg was drawn.",
        "peg": f"{peg}: nobody sat on it.",
        "lost": f"{peg}: {facts.get('name')} did not {_feat(facts['feat'], bare=True)}.",
        "not in": f"{peg}: {facts.get('name')} had not paid into it.",
        "joint": f"{peg}: the other part of a shared win.",
    }[facts["why"]]


def _feat(key: str, *, bare: bool = False) -> str:
    what = "match" if key == "match" else "section"
    return f"win the {what}" if bare else f"won the {what}"


def _is(names: Any) -> str:
    return "is" if len(names) == 1 else "are"


SAID: dict[str, Callable[[Mapping[str, Any]], str]] = {
    "fee": _fee,
    "place": _place,
    "team place": _team_place,
    "left": _left,
    "nobody": _nobody,
    "spare": _spare,
    "golden": _golden,
    "carried": _carried,
}


def what_said(what: str) -> str:
    """What a payment is for, as a heading says it."""
    return {STAKE: "Stakes", "junior": "Juniors, fees alone", "carried": "Carried in"}.get(
        what, capital(what)
    )


def read_out(plan: Plan) -> tuple[str, ...]:
    """The money of a match as it is announced before anybody pays."""
    return tuple(_announced(plan))


def _announced(plan: Plan) -> Iterator[str]:
    if not plan.asks:
        yield "Nothing to pay and no pools."
        return
    if plan.stake:
        yield f"{shortly(plan.stake)} a head: {and_list(list(_parts(plan)))}."
    if plan.frame:
        yield f"The frame: {_split(plan.frame_split)}."
    if plan.section:
        yield (
            "The section money is shared alike between the sections. In each: "
            f"{_split(plan.section_split)}."
        )
        yield plan.frame_rule.words
        yield plan.left_rule.words
    if plan.team:
        yield (
            f"The teams: {_split(plan.team_split)}. A team's prize is shared alike by its members "
            "in the pool."
        )
    for pool in plan.optional:
        into = f"{pool.name}, {shortly(pool.stake)}, for those who pay into it"
        yield f"{into}: {_split(pool.split)}."
    if plan.golden:
        yield from _golden_said(plan.golden)
    yield (
        f"Prizes are rounded to {UNITS[plan.unit]}; what that leaves goes to whoever it took most "
        "from."
    )
    yield (
        "Equals share the prizes of the places they cover, alike. Pence that do not split go to "
        f"the {plan.fund}."
    )
    if plan.fish_only:
        yield "No fish, no prize."
    yield "Who has not paid is in no pool."
    if not plan.juniors:
        yield JUNIORS_OUT
    yield LAW


def _parts(plan: Plan) -> Iterator[str]:
    for fee in plan.fees:
        yield f"{shortly(fee.each)} {fee.name.lower() if fee.name.istitle() else fee.name}"
    golden = plan.golden.of_stake if plan.golden else 0
    for each, name in (
        (plan.frame, "to the frame"),
        (plan.section, "to the sections"),
        (plan.team, "to the teams"),
        (golden, "to the golden peg"),
    ):
        if each:
            yield f"{shortly(each)} {name}"


def _split(split: Split) -> str:
    if split.one_in:
        rounded = ", rounded up" if split.rounded_up else ""
        return (
            f"one place for every {number_word(split.one_in)} in the pool{rounded}, falling shares"
        )
    return "; ".join(
        f"{f'from {least} in the pool, ' if least > 1 else ''}{_shares(shares)}"
        for least, shares in split.steps
    )


def _shares(shares: tuple[int, ...]) -> str:
    if len(shares) == 1:
        return "all to the first"
    unit = "%" if sum(shares) == 100 else ""
    return f"{'/'.join(map(str, shares))}{unit} to the first {number_word(len(shares))}"


def _golden_said(golden: GoldenPeg) -> Iterator[str]:
    asks = f", {shortly(golden.stake)} to be in it" if golden.stake else ""
    carried = f" {shortly(golden.carried)} is carried in." if golden.carried else ""
    yield (
        f"Golden peg{f' {golden.peg}' if golden.peg else ''}{asks}: whoever holds it and "
        f"{golden.feat.words} takes the fund; else it is carried to another day.{carried}"
    )
