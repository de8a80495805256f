"""Laws of every pool: what came in goes out, equals are paid alike, and a second working agrees."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from league.rules.matches import score_match
from league.rules.pools import settle
from league.rules.pools_plan import (
    FEATS,
    FRAME_RULES,
    LEFT_RULES,
    Fee,
    GoldenPeg,
    OptionalPool,
    Plan,
    Split,
)
from league.rules.pools_words import read_out, say_money
from tests.examples import tried
from tests.rows import book, row

PENCE = st.integers(0, 700)
SPLITS = st.one_of(
    st.lists(st.integers(1, 60), min_size=1, max_size=6).map(
        lambda shares: Split(((1, tuple(sorted(shares, reverse=True))),))
    ),
    st.builds(Split, one_in=st.integers(1, 5), rounded_up=st.booleans()),
)


@st.composite
def days(draw):
    """A match of up to four sections with level weights and blanks in plenty, and who is who."""
    sizes = draw(st.lists(st.integers(1, 6), min_size=1, max_size=4))
    names = [f"{letter}{at}" for letter, size in zip("ABCD", sizes, strict=False)
             for at in range(size)]  # fmt: skip
    rows = [
        row(name, draw(st.sampled_from([100, 200, 300, 400, 500, "blank", "absent",
                                        "not weighed", "disqualified"])),
            name[0], team=f"T{name[1]}")
        for name in names
    ]  # fmt: skip
    some = st.sets(st.sampled_from(names)).map(frozenset)
    paid = {"stake": draw(some), "Super pool": draw(some), "golden peg": draw(some)}
    return rows, names, paid, draw(some)


@st.composite
def plans(draw, names):
    """Any pools at all, their parts adding up to the stake."""
    fee, frame, section, team = draw(PENCE), draw(PENCE), draw(PENCE), draw(PENCE)
    of_stake = draw(st.sampled_from([0, 100]))
    golden = GoldenPeg(
        peg=draw(st.sampled_from([*names, ""])),
        of_stake=of_stake,
        stake=0 if of_stake else draw(PENCE),
        carried=draw(PENCE),
        feat=draw(st.sampled_from(list(FEATS.values()))),
    )
    return Plan(
        stake=fee + frame + section + team + of_stake,
        fees=(Fee("Peg fees", fee),),
        frame=frame,
        frame_split=draw(SPLITS),
        section=section,
        section_split=draw(SPLITS),
        team=team,
        team_split=draw(SPLITS),
        optional=(OptionalPool("Super pool", draw(st.integers(1, 500)), draw(SPLITS)),),
        golden=golden,
        frame_rule=draw(st.sampled_from(list(FRAME_RULES.values()))),
        left_rule=draw(st.sampled_from(list(LEFT_RULES.values()))),
        unit=draw(st.sampled_from([1, 10, 50, 100])),
        fish_only=draw(st.booleans()),
        juniors=draw(st.booleans()),
    )


@tried(100, 3000)
@given(data=st.data())
def test_what_came_in_is_what_goes_out_whatever_the_pools(data):
    rows, names, paid, juniors = data.draw(days())
    plan = data.draw(plans(names))

    settled = settle(score_match(rows, book()), plan, paid, juniors=juniors)

    in_hand = (
        sum(plan.due("stake", junior=name in juniors) for name in paid["stake"])
        + sum(plan.due("Super pool", junior=name in juniors) for name in paid["Super pool"])
        + sum(plan.due("golden peg", junior=name in juniors) for name in paid["golden peg"])
        * (plan.golden.stake > 0)
        + plan.golden.carried
    )
    assert sum(out.pence for out in settled.outs) == settled.total == in_hand
    assert all(out.pence > 0 for out in settled.outs)
    assert all(out.key in paid["stake"] | paid["Super pool"] | paid["golden peg"]
               for out in settled.prizes)  # fmt: skip
    assert all(say_money(out.reason) for out in settled.outs)
    assert all(read_out(plan))


@tried(75, 2000)
@given(data=st.data())
def test_the_frame_pays_equals_alike_and_nobody_heavier_less(data):
    rows, _, paid, _ = data.draw(days())
    plan = Plan(stake=500, frame=500, frame_split=data.draw(SPLITS))
    result = score_match(rows, book())

    got = settle(result, plan, paid).by_angler()

    weights = {line.angler: line.weight for line in result.anglers if line.angler in paid["stake"]}
    for one, ones in weights.items():
        for other, others in weights.items():
            if ones == others:
                assert got.get(one, 0) == got.get(other, 0)
            elif ones > others:
                assert got.get(one, 0) >= got.get(other, 0)


def worked_again(weights, total, shares):
    """
    The frame by another road: exact fractions, then a penny at a time to whoever is most behind.

    What equals cannot halve stays over.
    """
    fish = {who: weight for who, weight in weights.items() if weight}
    shares = shares[: len(fish)]
    if not shares:
        return {}
    exact = [Fraction(total * share, sum(shares)) for share in shares]
    prizes = [int(each) for each in exact]
    while sum(prizes) < total:
        behind = [each - prize for each, prize in zip(exact, prizes, strict=True)]
        prizes[behind.index(max(behind))] += 1
    prizes += [0] * len(fish)
    got = {}
    for who, weight in fish.items():
        better = sum(other > weight for other in fish.values())
        level = sum(other == weight for other in fish.values())
        got[who] = int(Fraction(sum(prizes[better : better + level]), level))
    return {who: sum_ for who, sum_ in got.items() if sum_}


@tried(75, 2000)
@given(
    weights=st.lists(st.integers(0, 5), min_size=1, max_size=12),
    stake=st.integers(1, 1500),
    shares=st.lists(st.integers(1, 60), min_size=1, max_size=6),
)
def test_a_second_working_gives_the_same_frame(weights, stake, shares):
    shares = tuple(sorted(shares, reverse=True))
    lake = {f"a{at}": weight * 100 for at, weight in enumerate(weights)}
    rows = [row(who, weight or "blank") for who, weight in lake.items()]
    plan = Plan(stake=stake, frame=stake, frame_split=Split(((1, shares),)))

    settled = settle(score_match(rows, book()), plan, {"stake": frozenset(lake)})

    assert settled.by_angler() == worked_again(lake, stake * len(lake), shares)
