"""Whether two names are probably one person's: accents, order, initials, short names, spelling."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from enum import IntEnum
from functools import lru_cache
from typing import TypeVar

# Short names as they are said on the bank, each beside what it usually stands for.
SHORT_NAMES: dict[str, tuple[str, ...]] = {
    "andy": ("andrew",),
    "bernie": ("bernard", "bernadette"),
    "bert": ("albert", "herbert", "robert"),
    "bill": ("william",),
    "bob": ("robert",),
    "charlie": ("charles", "charlotte"),
    "chris": ("christopher", "christine"),
    "dan": ("daniel",),
    "dave": ("david",),
    "don": ("donald",),
    "ed": ("edward", "edwin", "edmund"),
    "eddie": ("edward", "edwin", "edmund"),
    "fred": ("frederick", "alfred"),
    "geoff": ("geoffrey",),
    "harry": ("henry", "harold"),
    "jack": ("john",),
    "jim": ("james",),
    "joe": ("joseph",),
    "kate": ("katherine", "catherine"),
    "ken": ("kenneth",),
    "len": ("leonard",),
    "liz": ("elizabeth",),
    "maggie": ("margaret",),
    "matt": ("matthew",),
    "mick": ("michael",),
    "mike": ("michael",),
    "nick": ("nicholas",),
    "pat": ("patrick", "patricia"),
    "pete": ("peter",),
    "phil": ("philip", "phillip"),
    "ray": ("raymond",),
    "reg": ("reginald",),
    "rob": ("robert",),
    "ron": ("ronald",),
    "sam": ("samuel", "samantha"),
    "stan": ("stanley",),
    "steve": ("stephen", "steven"),
    "sue": ("susan",),
    "ted": ("edward", "theodore"),
    "tim": ("timothy",),
    "tom": ("thomas",),
    "tony": ("anthony", "antony"),
    "vic": ("victor",),
    "walt": ("walter",),
    "wilf": ("wilfred",),
    "will": ("william",),
}
ALIKE = 0.84  # of the letters; Smith and Smyth are 0.8 alone, Bob Smith and Bob Smyth 0.89
SHORTEST = 6  # letters of a whole name: of shorter ones half the club is alike
LETTERS = str.maketrans({"ø": "o", "ł": "l", "ß": "ss", "æ": "ae", "œ": "oe", "đ": "d", "ð": "d"})

Key = TypeVar("Key")


class Closeness(IntEnum):
    """How sure one may be, the surest first."""

    SAME = 0
    WRITTEN_OTHERWISE = 1
    OTHER_ORDER = 2
    SHORT_NAME = 3
    INITIAL = 4
    SPELLING = 5


WORDS = {
    Closeness.SAME: "the same name",
    Closeness.WRITTEN_OTHERWISE: "the same name but for accents, capitals or a hyphen",
    Closeness.OTHER_ORDER: "the same names in another order",
    Closeness.SHORT_NAME: "a short name for the same first name",
    Closeness.INITIAL: "an initial that fits the first name",
    Closeness.SPELLING: "nearly the same spelling",
}


@dataclass(frozen=True, slots=True)
class Likeness:
    """One name that another may be, and why, in words."""

    closeness: Closeness

    @property
    def words(self) -> str:
        """Why it may be the same person."""
        return WORDS[self.closeness]


def plain(name: str) -> str:
    """
    A name without accents, capitals, full stops, hyphens and apostrophes.

    >>> plain("Zoë O’Hara-Löfgren")
    'zoe ohara lofgren'
    """
    lower = name.casefold().translate(LETTERS)
    bare = "".join(
        each for each in unicodedata.normalize("NFKD", lower) if not unicodedata.combining(each)
    )
    spaced = "".join(
        "" if each in "'’`" else each if each.isalnum() or each == "," else " " for each in bare
    )
    return " ".join(spaced.replace(",", " , ").split())


def likeness(one: str, other: str) -> Likeness | None:
    """
    How alike two names are; None where they are two people's as far as anybody can tell.

    >>> likeness("R. Smith", "Robert Smith").words
    'an initial that fits the first name'
    >>> likeness("Smith, Bob", "Robert Smith").words
    'a short name for the same first name'
    >>> likeness("Ivy Marsh", "Ivor Marsh") is None
    True
    """
    if " ".join(one.split()) == " ".join(other.split()):
        return Likeness(Closeness.SAME)
    mine, theirs = _words(one), _words(other)
    if not mine or not theirs:
        return None
    if mine == theirs:
        turned = ("," in one) != ("," in other)
        return Likeness(Closeness.OTHER_ORDER if turned else Closeness.WRITTEN_OTHERWISE)
    if sorted(mine) == sorted(theirs):
        return Likeness(Closeness.OTHER_ORDER)
    if mine[-1] == theirs[-1] and len(mine) > 1 and len(theirs) > 1:
        if _stands_for(mine[0], theirs[0]) or _stands_for(theirs[0], mine[0]):
            return Likeness(Closeness.SHORT_NAME)
        if _initial_fits(mine[:-1], theirs[:-1]):
            return Likeness(Closeness.INITIAL)
    return Likeness(Closeness.SPELLING) if _spelt_alike(mine, theirs) else None


def by_word(names: Mapping[Key, str]) -> dict[str, list[Key]]:
    """
    Which names have a word, so that a list is not held against everybody.

    Two names that are alike share a word, or are one word each (under the empty word).
    """
    found: dict[str, list[Key]] = {}
    for key, name in names.items():
        words = _words(name)
        for word in {*words, *([""] if len(words) == 1 else [])}:
            found.setdefault(word, []).append(key)
    return found


def probably(
    name: str, others: Mapping[Key, str], words: Mapping[str, Sequence[Key]] | None = None
) -> list[tuple[Key, Likeness]]:
    """
    Who of *others* the name may be, the likeliest first; *words* is `by_word` of them, made once.

    >>> [key for key, _ in probably("Bob Smyth", {1: "Bob Smith", 2: "Ivy Marsh"})]
    [1]
    """
    index = by_word(others) if words is None else words
    mine = _words(name)
    near = dict.fromkeys(
        key for word in (*mine, *([""] if len(mine) == 1 else [])) for key in index.get(word, ())
    )
    found = [(key, like) for key in near if (like := likeness(name, others[key]))]
    return sorted(found, key=lambda each: each[1].closeness)


def pairs(names: Mapping[Key, str]) -> list[tuple[Key, Key, Likeness]]:
    """Every two of *names* that may be one person, the likeliest first."""
    words = by_word(names)
    place = {key: at for at, key in enumerate(names)}
    found = [
        (key, other, like)
        for key, name in names.items()
        for other, like in probably(name, names, words)
        if place[key] < place[other]
    ]
    return sorted(found, key=lambda each: (each[2].closeness, place[each[0]], place[each[1]]))


@lru_cache(maxsize=4096)  # a list of three hundred is held against three hundred on record
def _words(name: str) -> tuple[str, ...]:
    """First names, then the surname: what stands before a comma goes to the end."""
    before, comma, after = plain(name).partition(",")
    return (*after.replace(",", " ").split(), *(before.split() if comma else ())) or tuple(
        before.split()
    )


def _stands_for(short: str, whole: str) -> bool:
    return whole in SHORT_NAMES.get(short, ())


def _initial_fits(mine: Iterable[str], theirs: Iterable[str]) -> bool:
    """R and Robert, R J and Robert John, R and Robert John; not Robert and Ronald."""
    together = list(zip(mine, theirs, strict=False))
    if not any(len(one) == 1 or len(other) == 1 for one, other in together):
        return False
    return all(
        one == other or (min(len(one), len(other)) == 1 and one[0] == other[0])
        for one, other in together
    )


def _spelt_alike(mine: Sequence[str], theirs: Sequence[str]) -> bool:
    """One slip somewhere: each word alike, and no first name that is another person's."""
    one, other = " ".join(mine), " ".join(theirs)
    if min(len(one), len(other)) < SHORTEST or len(mine) != len(theirs):
        return False
    differing = [(a, b) for a, b in zip(mine, theirs, strict=True) if a != b]
    if len(differing) > 1 or any(min(len(a), len(b)) < 3 for a, b in differing):
        return False
    (a, b) = differing[0]
    return _slips(a, b) == 1 and SequenceMatcher(None, one, other).ratio() >= ALIKE


def _slips(one: str, other: str) -> int:
    """Letters left out, put in, changed, or two changed over; 2 stands for more than one."""
    if abs(len(one) - len(other)) > 1:
        return 2
    start = next(
        (at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )
    a, b = one[start:], other[start:]
    if len(a) == len(b):
        changed_over = a[:2] == b[:2][::-1] and a[2:] == b[2:]
        return 1 if a[1:] == b[1:] or changed_over else 2
    longer, shorter = (a, b) if len(a) > len(b) else (b, a)
    return 1 if longer[1:] == shorter else 2
