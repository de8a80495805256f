"""`draw`: pegs for everybody from two plain files, and a record that anyone can check."""

from __future__ import annotations

import re
import secrets
from argparse import ArgumentTypeError
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from league.files.draw import Record, read_record, write_record
from league.files.draw_csv import Files, read_files
from league.rules import draw
from league.rules.errors import DrawError, RuleError


def called(typed: str) -> list[draw.Call]:
    """Calls as they are typed: `2=4071` for entry 2, `5=-` for a caller who did not call."""
    calls: list[draw.Call] = []
    for part in typed.split(","):
        found = re.fullmatch(r"([0-9]{1,6})[=:|]([0-9]{1,6}|-)\.?", part.strip())
        if not found:
            raise ArgumentTypeError(f"write 2=4071 for entry 2 calling 4071, or 2=-, not {part!r}")
        calls.append((int(found[1]), None if found[2] == "-" else int(found[2])))
    return calls


class Command(BaseCommand):
    """Needs no database and no settings of its own."""

    help = (
        "Draw pegs from ENTRIES.csv (entry,angler,team,section,easy_access) and PEGS.csv "
        "(section,peg,easy_access,next_to). On the bank name the callers: the command locks a "
        "secret away, shows its seal and the sheet's fingerprint, and asks for each number."
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("entries", metavar="ENTRIES.csv")
        parser.add_argument("pegs", metavar="PEGS.csv")
        numbers = parser.add_mutually_exclusive_group()
        numbers.add_argument(
            "--callers",
            nargs="+",
            type=int,
            metavar="ENTRY",
            help="the entries that will call, for example 2 5 9: each is asked for a number",
        )
        numbers.add_argument(
            "--calls",
            nargs="+",
            type=called,
            default=[],
            metavar="ENTRY=NUMBER",
            help=(
                "numbers from 0 to 9999 that were called already, for example 2=4071 5=12 9=- "
                "(9 did not call). Without --callers and --calls nobody calls: the pegs then "
                "follow from the secret alone, and the record says so"
            ),
        )
        parser.add_argument("--match", default="", help="the match's name in the texts")
        parser.add_argument(
            "--secret",
            default="",
            help="64 hexadecimal digits, to make a known draw again; otherwise a new one is made",
        )
        parser.add_argument("--record", metavar="RECORD.json", help="where to write the record")

    def handle(self, *args: Any, **options: Any) -> None:
        kept = Path(options["record"]) if options["record"] else None
        try:
            refuse_to_overwrite(kept)
            files = read_files(_read(options["entries"]), _read(options["pegs"]))
            given = [call for calls in options["calls"] for call in calls]
            callers = options["callers"] or [no for no, _ in given]
            match = options["match"] or _plain(Path(options["entries"]).stem)
            sheet = files.sheet(match, callers)
            if wrong := draw.faults(sheet, files.teams):
                raise DrawError("\n".join(wrong))
            secret = options["secret"] or secrets.token_hex(32)
            sealed = draw.commitment(secret)
            self.before(files, sheet, sealed)
            calls = self.ask(files, callers) if options["callers"] else given
            event = draw.make_event(
                sheet, number=1, prev=sealed, calls=calls, reveal=draw.reveal(secret, 1)
            )
            record = Record(sheet, sealed, (event,), files.names, files.teams, files.peg_names)
            outcome = record.outcomes()[0]
        except RuleError as error:
            raise CommandError(str(error)) from error
        if kept:
            _write(kept, write_record(record))
        self.show(files, sheet, outcome)
        if given:
            self.stderr.write(
                "These numbers were known before the secret was made: the record shows how the "
                "pegs came out, not that only one secret was tried. On the bank use --callers."
            )

    def before(self, files: Files, sheet: draw.Sheet, sealed: str) -> None:
        """What everybody may copy down before a number is called."""
        self.stdout.write(f"Seal of the secret: {sealed}")
        self.stdout.write(f"Sheet's SHA-256:    {sheet.digest}")
        doubts = draw.doubts(sheet, files.teams)
        doubts += draw.rehearse(sheet, teams=files.teams, peg_names=files.peg_names)
        for doubt in doubts:
            self.stderr.write(doubt)

    def ask(self, files: Files, callers: list[int]) -> list[draw.Call]:
        """The number of each caller in turn; an empty line for one who does not call."""
        calls: list[draw.Call] = []
        for no in callers:
            while True:
                self.stdout.write(f"{files.names.get(no, f'Entry {no}')} calls: ", ending="")
                self.stdout.flush()
                try:
                    typed = input().strip()
                except EOFError as error:
                    raise CommandError(
                        f"No number from entry {no}, and nothing was drawn. "
                        "Type a number for every caller, or leave the line empty."
                    ) from error
                if typed in ("", "-"):
                    calls.append((no, None))
                    break
                if re.fullmatch(r"[0-9]{1,4}", typed):
                    calls.append((no, int(typed)))
                    break
                self.stderr.write(f"A call is a whole number from 0 to 9999, not {typed!r}.")
        return calls

    def show(self, files: Files, sheet: draw.Sheet, outcome: draw.Outcome) -> None:
        """The pegs by section, what is left in each bag, and how it came about."""
        for section in sheet.sections:
            self.stdout.write(f"\nSection {section.letter}")
            for no, peg in sorted(outcome.pegs.items(), key=lambda drawn: drawn[1]):
                entry = sheet.by_no[no]
                if entry.section == section.letter:
                    team = files.teams.get(entry.team, entry.team)
                    who = files.names.get(no, f"entry {no}")
                    self.stdout.write(f"  peg {_name(files, peg):>4}  {who:<28} {team}".rstrip())
            left = " ".join(_name(files, peg) for peg in outcome.bag[section.letter])
            self.stdout.write(f"  left in the bag: {left or 'nothing'}")
        self.stdout.write("")
        for words in draw.say(outcome, files.teams, files.peg_names):
            self.stdout.write(words)


def refuse_to_overwrite(kept: Path | None) -> None:
    """Nobody draws until they like it: a record that is there already is not written over."""
    if kept is None or not kept.exists():
        return
    text = kept.read_text("utf-8") if kept.is_file() else "folder"
    try:
        if text.strip():
            read_record(text)
    except RuleError as error:
        raise DrawError(f"{kept} is there already, and is not a draw record. {_OTHER}") from error
    if text.strip():
        raise DrawError(f"{kept} holds a draw already; it is not written over. {_OTHER}")


_OTHER = "Give another name for this draw's record."


def _read(path: str) -> str:
    try:
        return Path(path).read_text("utf-8-sig")
    except UnicodeDecodeError as error:
        raise DrawError(f"{path} is not UTF-8 text. Save it as CSV in UTF-8.") from error
    except OSError as error:
        raise DrawError(f"{path} cannot be read: {error.strerror}.") from error


def _write(path: Path, text: str) -> None:
    try:
        path.write_text(text, "utf-8")
    except OSError as error:
        raise CommandError(f"{path} cannot be written: {error.strerror}.") from error


def _plain(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9-]+", "-", name).strip("-").lower()[:40] or "match"


def _name(files: Files, peg: int) -> str:
    return files.peg_names.get(peg, str(peg))
