"""Where the chance of a draw comes from: a locked secret, numbers called, and SHA-256."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from hashlib import sha256
from struct import Struct
from typing import TypeVar

from league.rules.errors import DrawError

T = TypeVar("T")

CHAIN = "PEGCHAIN/1:"
# The main draw and four later events: a late entry, a peg found unsafe, a section drawn again.
EVENTS = 5
HEX = frozenset("0123456789abcdef")
# The first four bytes of a digest, which are its first eight hexadecimal digits.
EIGHT_DIGITS = Struct(">I").unpack_from


def fingerprint(text: str) -> str:
    """The SHA-256 of *text*, as 64 small hexadecimal digits."""
    return sha256(text.encode("ascii")).hexdigest()


def is_fingerprint(text: str) -> bool:
    """Whether *text* is written as a SHA-256 is."""
    return len(text) == 64 and HEX.issuperset(text)


def chain(secret: str, n: int = EVENTS) -> list[str]:
    """
    The secret and the *n* links made from it, each the SHA-256 of the link before.

    The last link is published before entries close. Event 1 reveals the last but one, event 2
    the one before that: each is proved by the link already known, and gives nothing away of
    those still to come.
    """
    if not is_fingerprint(secret):
        raise DrawError("The secret of a draw is 64 hexadecimal digits (0-9 and a-f).")
    links = [secret]
    for _ in range(n):
        links.append(fingerprint(CHAIN + links[-1]))
    return links


def commitment(secret: str, n: int = EVENTS) -> str:
    """What is published before the draw: the end of the chain."""
    return chain(secret, n)[n]


def reveal(secret: str, event: int, n: int = EVENTS) -> str:
    """What event number *event* reveals, counting from 1."""
    if not 1 <= event <= n:
        raise DrawError(
            f"This secret was made for {n} events and cannot open event {event}. "
            "Freeze a new sheet with a new secret, or draw by hand from a bag."
        )
    return chain(secret, n)[n - event]


def opens(revealed: str, event: int, published: str) -> bool:
    """Whether what event number *event* revealed was fixed when *published* was."""
    return is_fingerprint(revealed) and chain(revealed, event)[event] == published


class Stream:
    """
    The random numbers of one seed under one label, in order.

    Word c is the first 8 hexadecimal digits of SHA256("seed:label:c"), c = 1, 2, 3 ...;
    `printf %s "$seed:A/1:1" | sha256sum` shows the first word of section A, attempt 1.
    *digits* is smaller in tests alone, where a word must be refused often.
    """

    __slots__ = ("_form", "_read", "_words", "used")

    def __init__(self, seed: str, label: str, digits: int = 8) -> None:
        self._form = f"{seed}:{label}:".replace("%", "%%").encode("ascii") + b"%d"
        self._words = 16**digits
        self._read = EIGHT_DIGITS if digits == 8 else lambda found: (int(found.hex()[:digits], 16),)
        self.used = 0

    def word(self) -> int:
        """The next word."""
        self.used += 1
        return int(self._read(sha256(self._form % self.used).digest())[0])

    def below(self, k: int) -> int:
        """
        A number from 0 to *k* - 1, each as likely as any other.

        A word too close to the end of the range is passed over, since its remainder would
        favour the small numbers. One choice is no choice, and uses no word.
        """
        return next(self.each_below((k,)))

    def each_below(self, sizes: Iterable[int]) -> Iterator[int]:
        """`below` for one size after another: a section of pegs is drawn in one go, for speed."""
        form, read, words, used = self._form, self._read, self._words, self.used
        for k in sizes:
            if k == 1:
                yield 0
                continue
            used += 1
            word = read(sha256(form % used).digest())[0]
            rest = word % k
            while word - rest > words - k:  # the last run of k words is not whole
                used += 1
                word = read(sha256(form % used).digest())[0]
                rest = word % k
            self.used = used
            yield rest


def pick(items: list[T], below: Callable[[int], int]) -> T:
    """Take one of the *items* out of the list, and return it."""
    return items.pop(below(len(items)))
