"""The published vectors of the draw. A second program, fed the same texts, gave the same pegs."""

from hashlib import sha256

from league.rules import draw

SECRET = sha256(b"demo secret 1").hexdigest()
LINKS = draw.chain(SECRET)

SHEET = draw.Sheet(
    match="demo-1",
    sections=(
        draw.Section("A", (1, 2, 3, 4, 5, 7), (1, 2)),
        draw.Section("B", (8, 9, 10, 12, 13)),
        draw.Section("C", (14, 15, 16, 17, 18), (14,)),
    ),
    entries=tuple(
        draw.Entry(no, team, section, needs=no in (4, 12))
        for no, (team, section) in enumerate(
            [(team, section) for team in ("RED", "BLU", "GRN", "TAN") for section in "ABC"], 1
        )
    ),
    adjacent=((7, 8), (13, 14)),
    callers=(2, 5, 9),
)
FIRST = draw.make_event(
    SHEET, number=1, prev=LINKS[5], calls=[(2, 4071), (5, 12), (9, 903)], reveal=LINKS[4]
)
SECOND = draw.make_event(
    SHEET,
    number=2,
    prev=FIRST.seed,
    calls=[(2, 77), (5, None), (9, None)],
    reveal=LINKS[3],
    change=draw.Late(draw.Entry(13, "TAN", "A")),
)
THIRD = draw.make_event(
    SHEET,
    number=3,
    prev=SECOND.seed,
    calls=[(2, 5000), (5, None), (9, 1)],
    reveal=LINKS[2],
    change=draw.Redraw("B"),
)


def test_the_chain_of_five_links_is_the_published_one():
    """Vector D1."""
    assert SECRET == "6f223adf4c1491f17bae5b6645854a417f21296a5b5a34ed0cdab055373dc868"
    assert LINKS[:0:-1] == [
        "a38766034110f37c6cfbe4678289891048338075d53a9cb3f8e47642ddf6d760",
        "3301c992bb0c7ae7aa22e89d6e9a0b37cd04d09eed22cf64a973aa0be8a91110",
        "5bd4e994d1a5809c0f4bb16ee84067b5c0f01d0bff57771357a05eb7209d8d86",
        "83b2c6ecd83dc6608278653a3ece5638767c0030d2f9df2467620402988b784b",
        "e74c6af78e9a21fa29e9586bf8e463eb1e0444801143bb48aa91837b209a34b3",
    ]


def test_the_sheet_has_the_published_fingerprint():
    """Vector D2."""
    assert SHEET.digest == "ad7a8b13e1ce3902c6a2dcff68fc02597bcd725045b9a1ef923da6fdffaf2df8"


def test_the_first_event_has_the_published_seed_and_words():
    """Vector D3."""
    stream = draw.Stream(FIRST.seed, "A/1")

    assert FIRST.seed == "8c8083913492196c79ac912c834832fa81b747a5872f13b1cbea8080840fbea0"
    assert [stream.word() for _ in range(4)] == [3686012065, 1885141397, 546036954, 2242201944]


def test_the_first_event_gives_the_published_pegs():
    """Vector D4."""
    outcome = draw.run(SHEET, FIRST)

    assert outcome.attempt == 1
    assert outcome.pegs == {
        1: 4, 2: 9, 3: 17, 4: 2, 5: 13, 6: 15, 7: 5, 8: 8, 9: 16, 10: 1, 11: 10, 12: 14,
    }  # fmt: skip
    assert outcome.bag == {"A": (3, 7), "B": (12,), "C": (18,)}


def test_a_late_entry_chooses_alone_among_the_pegs_left():
    """Vector D5."""
    outcome = draw.run(SHEET, SECOND, [FIRST])

    assert SECOND.seed == "0200886b4e050e6ae2c6b800f6dce3b3f37aa02583f1726d5e01485d78c2ab3f"
    assert outcome.moved == (13,)
    assert outcome.pegs == draw.run(SHEET, FIRST).pegs | {13: 3}
    assert outcome.bag["A"] == (7,)


def test_one_section_is_drawn_again_while_the_others_stay():
    """Vector D6."""
    outcome = draw.run(SHEET, THIRD, [FIRST, SECOND])

    assert THIRD.seed == "e3f2c56f91a70c8dfe058f33acbb6ce507c6ca3496a1322b2525739fa65c6f63"
    assert outcome.attempt == 1
    assert outcome.pegs == draw.run(SHEET, SECOND, [FIRST]).pegs | {2: 9, 5: 13, 8: 12, 11: 10}
    assert outcome.bag["B"] == (8,)


def test_words_too_near_the_end_are_passed_over():
    """Vector D7: counter 2 is passed over."""
    stream = draw.Stream(FIRST.seed, "reject")
    drawn = []
    counters = []
    for _ in range(4):
        drawn.append(stream.below(3_000_000_000))
        counters.append(stream.used)

    assert drawn == [2893136081, 1631123994, 684429450, 993638225]
    assert counters == [1, 3, 4, 5]


def test_words_of_one_digit_show_how_often_some_are_passed_over():
    """Vector D8."""
    stream = draw.Stream(FIRST.seed, "tiny", digits=1)
    drawn = []
    counters = []
    for _ in range(12):
        drawn.append(stream.below(6))
        counters.append(stream.used)

    assert drawn == [3, 1, 5, 5, 5, 2, 5, 1, 1, 4, 3, 1]
    assert counters == [2, 5, 9, 10, 12, 13, 14, 17, 18, 19, 20, 21]
