"""Every valid draw as likely as any other, by chi-square; and wrong ways to draw that fail it."""

from collections import Counter
from hashlib import sha256
from itertools import permutations, product

import pytest
from scipy.stats import chi2, chisquare

from league.rules.draw_chain import Stream, pick
from league.rules.draw_engine import Bag, Neighbours, draw_bags, draw_section

NOBODY = Neighbours((), {})
# Seeds are fixed, so a p-value is the same on every run; a fair draw may show any above this.
FAIR = 0.01
UNFAIR = 1e-9


def seeds(count):
    """So many seeds that have nothing to do with one another."""
    return (sha256(b"uniform %d" % n).hexdigest() for n in range(count))


def p_value(found, possible):
    """The p-value of *found* against all *possible* outcomes being equally likely."""
    assert set(found) <= set(possible)
    return chisquare([found[outcome] for outcome in possible]).pvalue


def test_all_orders_of_five_pegs_are_equally_likely():
    bag = Bag("A", (1, 2, 3, 4, 5), (), (), (1, 2, 3, 4, 5))

    found = Counter(
        tuple(draw_section(bag, Stream(seed, "A/1")).values()) for seed in seeds(60_000)
    )

    assert p_value(found, list(permutations(range(1, 6)))) > FAIR


def test_every_angler_gets_every_peg_of_twenty_equally_often():
    numbers = tuple(range(1, 21))
    bag = Bag("A", numbers, (), (), numbers)

    found = Counter(
        drawn for seed in seeds(10_000) for drawn in draw_section(bag, Stream(seed, "A/1")).items()
    )

    # Rows and columns have fixed sums: 19 x 19 degrees of freedom. All pegs of one draw are
    # different, so a cell varies by 500 x 19/20, and the usual sum has a mean of 380: scaled.
    counts = [found[drawn] for drawn in product(numbers, numbers)]
    statistic = sum((count - 500) ** 2 / 500 for count in counts) * 19 / 20
    assert chi2.sf(statistic, df=361) > FAIR


def test_accessible_pegs_first_leaves_every_valid_draw_equally_likely():
    """Two of four pegs are accessible, one angler of three needs one: 2 x 3 x 2 draws."""
    bag = Bag("A", (1, 2, 3, 4), (1, 2), (3,), (1, 2))
    valid = [order for order in permutations((1, 2, 3, 4), 3) if order[2] in (1, 2)]

    found = Counter(
        tuple(peg for _, peg in sorted(draw_section(bag, Stream(seed, "A/1")).items()))
        for seed in seeds(12_000)
    )

    assert len(valid) == 12
    assert p_value(found, valid) > FAIR


THREE = [
    Bag(letter, tuple(range(first, first + 3)), (), (), tuple(range(first, first + 3)))
    for letter, first in (("A", 1), ("B", 4), ("C", 7))
]
RULE = Neighbours(((3, 4), (6, 7)), {no: "RBG"[no % 3] for no in range(1, 10)})
VALID = [
    pegs
    for orders in product(*(permutations(bag.pegs) for bag in THREE))
    for pegs in [sum(orders, ())]
    if not RULE.clashes(dict(enumerate(pegs, 1)))
]


def test_keeping_team_mates_apart_leaves_every_valid_draw_equally_likely():
    """Three sections of three, three teams, two borders: 96 of 216 valid, 2.25 attempts each."""
    accepted = [draw_bags(THREE, seed, RULE, {}) for seed in seeds(24_000)]

    found = Counter(tuple(peg for _, peg in sorted(each.pegs.items())) for each in accepted)

    assert len(VALID) == 96
    assert p_value(found, VALID) > FAIR
    assert sum(each.attempt for each in accepted) / 24_000 == pytest.approx(2.25, abs=0.05)


def test_skipping_the_pegs_a_team_mate_blocks_is_not_fair():
    """The quick way: angler by angler, blocked pegs left out, and again at a dead end."""
    found = Counter()
    for seed in seeds(24_000):
        below = Stream(seed, "skip").below
        pegs = None
        while pegs is None:
            pegs = _skipping(below)
        found[tuple(pegs[no] for no in sorted(pegs))] += 1

    assert p_value(found, VALID) < UNFAIR


def _skipping(below):
    pegs = {}
    for bag in THREE:
        left = list(bag.pegs)
        for no in bag.others:
            free = [peg for peg in left if not RULE.clashes(pegs | {no: peg})]
            if not free:
                return None
            pegs[no] = pick(free, below)
            left.remove(pegs[no])
    return pegs


def test_two_members_a_section_leave_every_valid_draw_equally_likely():
    """Two sections of four pegs in a row, two teams with two members in each."""
    bags = [
        Bag("A", (1, 2, 3, 4), (), (), (1, 2, 3, 4), nested=True),
        Bag("B", (5, 6, 7, 8), (), (), (5, 6, 7, 8), nested=True),
    ]
    rule = Neighbours(
        tuple((peg, peg + 1) for peg in range(1, 8)), {no: "RB"[no % 2] for no in range(1, 9)}
    )
    valid = [
        pegs
        for one, other in product(permutations((1, 2, 3, 4)), permutations((5, 6, 7, 8)))
        for pegs in [one + other]
        if not rule.clashes(dict(enumerate(pegs, 1)))
    ]

    found = Counter(
        tuple(peg for _, peg in sorted(draw_bags(bags, seed, rule, {}).pegs.items()))
        for seed in seeds(6_000)
    )

    # The teams alternate along all eight pegs, red first or blue first; 2! x 2! orders of each
    # team's two in each section: 2 x 4 x 4 = 32.
    assert len(valid) == 32
    assert p_value(found, valid) > FAIR


def test_words_passed_over_make_small_words_fair_and_a_bare_remainder_does_not():
    """Of the sixteen one-digit words, 12 to 15 would give 0 to 3 a third chance."""
    fair = Stream("seed", "die", digits=1)
    bare = Stream("seed", "die", digits=1)

    thrown = Counter(fair.below(6) for _ in range(12_000))
    remainders = Counter(bare.word() % 6 for _ in range(12_000))

    assert p_value(thrown, range(6)) > FAIR
    assert p_value(remainders, range(6)) < UNFAIR


def test_swapping_with_any_item_is_no_fair_shuffle():
    """C60, by enumeration: 27 choices for three items, against six among those not yet placed."""
    biased = Counter()
    for choices in product(range(3), repeat=3):
        items = list("ABC")
        for place, other in enumerate(choices):
            items[place], items[other] = items[other], items[place]
        biased["".join(items)] += 1
    fair = Counter()
    for choices in product(range(3), range(2), range(1)):
        numbers, items = iter(choices), list("ABC")
        fair["".join(pick(items, lambda k: next(numbers)) for _ in range(3))] += 1  # noqa: B023

    assert biased == {"ABC": 4, "ACB": 5, "BAC": 5, "BCA": 5, "CAB": 4, "CBA": 4}
    assert fair == dict.fromkeys(biased, 1)


def test_a_second_seed_gives_another_draw():
    one, other = (draw_bags(THREE, seed, NOBODY, {}).pegs for seed in seeds(2))

    assert one != other
