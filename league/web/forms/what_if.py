"""Choosing other rules for a look: a ready-made book, a book of one's own, or single rules."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile

from league.files import rulebook
from league.files.book_read import LARGEST_FILE
from league.rules.books import READY_MADE
from league.rules.errors import RulebookError
from league.rules.rulebook import Rulebook
from league.web.forms.rules import as_changes, questions

INVISIBLE = "There is an invisible character where � stands. Type it again."
TOO_LONG = "This is far too long for a rule book. A rule book is a page."


def visible(text: str) -> str:
    """*text* with a sign where something stands that no page can show."""
    return "".join(each if each.isprintable() or each in "\r\n\t" else "�" for each in text)


class ReadyMadeForm(forms.Form):
    """One of the books that are there already."""

    book = forms.ChoiceField(
        label="Rule book",
        choices=[(key, book.name) for key, book in READY_MADE.items()],
        error_messages={"invalid_choice": "There is no ready-made book of that name. Choose one."},
    )

    def rules(self) -> Rulebook:
        """The book that was chosen."""
        return READY_MADE[self.cleaned_data["book"]]


class OwnBookForm(forms.Form):
    """A rule book as it is written: pasted, or as a file."""

    written = forms.CharField(
        label="Paste a rule book",
        required=False,
        strip=False,
        max_length=LARGEST_FILE,
        error_messages={"max_length": TOO_LONG},
        help_text="TOML, with the keys of the rules page's file. What is left out is the default.",
        widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false", "autocomplete": "off"}),
    )
    file = forms.FileField(label="Or choose the file", required=False, allow_empty_file=True)

    def __init__(self, data: Any = None, files: Any = None, **kwargs: Any) -> None:
        if data is not None:
            data = data.copy()
            data["written"] = visible(data.get("written", ""))
        super().__init__(data, files, **kwargs)
        self.book: Rulebook | None = None

    def clean(self) -> dict[str, Any]:
        """Read the book, a slip for each of its faults; a file's text is kept in the box."""
        found = super().clean() or {}
        text = found.get("written") or ""
        if upload := found.get("file"):
            text = self._taken_over(upload)
        if self.errors:
            return found
        if "�" in text:
            raise ValidationError({"written": INVISIBLE})
        if not text.strip():
            raise ValidationError("Paste a rule book, or choose its file.")
        try:
            self.book = rulebook.read_toml(text)
        except RulebookError as error:
            raise ValidationError(
                [ValidationError(line) for line in str(error).splitlines()]
            ) from (error)
        return found

    def _taken_over(self, upload: UploadedFile) -> str:
        """The text of the file, put where it can be mended: a file box comes back empty."""
        if (upload.size or 0) > LARGEST_FILE:
            raise ValidationError({"file": TOO_LONG})
        try:
            text = visible(upload.read().decode("utf-8-sig"))
        except UnicodeDecodeError as error:
            raise ValidationError(
                {"file": "This file is not UTF-8 text. Save it as UTF-8, or paste it."}
            ) from error
        self.data["written"] = text  # type: ignore[index]
        return text

    def rules(self) -> Rulebook:
        """The book that was read."""
        assert self.book is not None  # noqa: S101 -- a form without slips has read one
        return self.book


class RulesForm(forms.Form):
    """The season's own rules, each of them to be changed for a look."""

    def __init__(self, data: Any = None, *, book: Rulebook, rounds: int, **kwargs: Any) -> None:
        super().__init__(None if data is None else data.copy(), **kwargs)
        self.own = book
        self.book: Rulebook | None = None
        self._asked = questions(book, rounds)
        for question in self._asked:
            self.fields[question.name] = question.field()
            if data is not None:
                # An address may name one rule and leave the rest as it is.
                self.data[question.name] = visible(data.get(question.name, question.initial))  # type: ignore[index]

    def parts(self) -> Iterator[tuple[str, list[forms.BoundField]]]:
        """The fields under the headings a rule book is read out under."""
        headed: dict[str, list[forms.BoundField]] = {}
        for question in self._asked:
            headed.setdefault(question.heading, []).append(self[question.name])
        yield from headed.items()

    def clean(self) -> dict[str, Any]:
        """Put the changed rules into the book; what they contradict is said."""
        found = super().clean() or {}
        for name, value in list(found.items()):
            if "�" in value:
                self.add_error(name, INVISIBLE)
        if self.errors:
            return found
        changed = {
            question: found[question.name]
            for question in self._asked
            if found[question.name] != question.initial
        }
        try:
            self.book = rulebook.changed(
                self.own, {"name": f"{self.own.name[:180]}, changed", **as_changes(changed)}
            )
        except RulebookError as error:
            raise ValidationError(
                [ValidationError(line) for line in str(error).splitlines()]
            ) from (error)
        return found

    def rules(self) -> Rulebook:
        """The season's book as changed."""
        assert self.book is not None  # noqa: S101 -- a form without slips has made one
        return self.book
