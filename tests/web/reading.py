"""A page as its reader has it: its words, its headings, its tables, its addresses."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

import html5lib
from django.http import HttpResponse

XHTML = "{http://www.w3.org/1999/xhtml}"


@dataclass(frozen=True)
class Read:
    """A page that is HTML without a fault, whose own addresses all lead somewhere."""

    root: Element

    @property
    def words(self) -> str:
        """Everything the matter of the page says, single-spaced."""
        return said(next(self.all("main")))

    @property
    def head_words(self) -> str:
        """What stands over and under the matter."""
        return " ".join(said(part) for name in ("header", "footer") for part in self.all(name))

    @property
    def h1(self) -> str:
        """The headline."""
        return said(next(self.all("h1")))

    @property
    def links(self) -> list[str]:
        """Where the page leads, in its order."""
        return [link.get("href", "") for link in self.all("a")]

    def all(self, name: str) -> Iterator[Element]:
        """Every element of that name."""
        return self.root.iter(f"{XHTML}{name}")

    def table(self, at: int = 0) -> list[list[str]]:
        """The rows of a table without its reasons, cell by cell as one reads them."""
        table = list(self.all("table"))[at]
        return [
            [shown(cell) for cell in row]
            for row in table.iter(f"{XHTML}tr")
            if row.get("class") != "why"
        ]

    def reason(self, address: str) -> str:
        """What the figure at *address* unfolds to."""
        found = next(row for row in self.all("tr") if row.get("id") == address)
        return said(found)


def read(response: HttpResponse, status: int = 200) -> Read:
    """Read an answer, which must be a sound page."""
    assert response.status_code == status
    page = Read(html5lib.HTMLParser(strict=True).parse(response.content.decode()))
    ids = Counter(each.get("id") for each in page.root.iter() if each.get("id"))
    assert [each for each, count in ids.items() if count > 1] == []
    assert [link for link in page.links if link.startswith("#") and link[1:] not in ids] == []
    return page


def said(element: Element) -> str:
    """Everything an element says, single-spaced."""
    return " ".join("".join(_said(element, IN_A_LINE)).split())


def shown(element: Element) -> str:
    """What an element shows to the eye, figure by figure: not what is there for the ear alone."""
    return " ".join("".join(_said(element, set(), heard=False)).split())


# What stands in a line of words; everything else stands apart.
IN_A_LINE = {f"{XHTML}{name}" for name in ("a", "b", "s", "span", "small")}


def _said(element: Element, in_a_line: set[str], *, heard: bool = True) -> Iterator[str]:
    if not heard and "vh" in element.get("class", "").split():
        return
    apart = "" if element.tag in in_a_line else " "
    yield apart
    yield element.text or ""
    for child in element:
        yield from _said(child, in_a_line, heard=heard)
        yield child.tail or ""
    yield apart
