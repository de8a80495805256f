"""What must hold between the rows of a sheet: one angler a peg, teams in size and so on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from itertools import pairwise

from league.files.sheet_cells import in_other_unit
from league.files.sheet_draft import Draft, Reading
from league.rules.errors import Fault
from league.rules.figures import and_list, number_word
from league.rules.lines import Status
from league.rules.rulebook import BY_WEIGHT, Rulebook
from league.rules.weights import Unit


def check_match(draft: Draft, book: Rulebook, faults: list[Fault], warnings: list[str]) -> None:
    """Note what cannot be in one match, and warn of what is odd."""
    pegs: dict[str, int] = {}
    anglers: dict[str, int] = {}
    in_section: Counter[tuple[str, str]] = Counter()
    in_team: Counter[str] = Counter()
    for row, where in zip(draft.rows, draft.where, strict=True):
        peg, angler = row.peg.casefold(), row.angler.casefold()
        if peg and (first := pegs.setdefault(peg, where)) != where:
            words = f"Peg {row.peg} is in row {first} already. Two anglers cannot share a peg."
            faults.append(Fault(where, "peg", words))
        if angler and (first := anglers.setdefault(angler, where)) != where:
            words = (
                f"{row.angler} is in row {first} already. If they are two people, tell them apart "
                "by name."
            )
            faults.append(Fault(where, "angler", words))
        if not row.team:
            continue
        in_section[row.team, row.section] += 1
        in_team[row.team] += 1
        most = book.team.per_section
        if in_section[row.team, row.section] == most + 1:
            words = (
                f"{row.team} have more than {number_word(most)} in section {row.section}, "
                f"where the rule book allows {number_word(most)}."
            )
            faults.append(Fault(where, "team", words))
        if in_team[row.team] == book.team.size + 1:
            words = (
                f"{row.team} have more than the {number_word(book.team.size)} anglers of a team. "
                "Take one out, or write the size of a team in the rule book."
            )
            faults.append(Fault(where, "team", words))
    _warn_of_match(draft, in_team, book, warnings)


def _warn_of_match(
    draft: Draft, in_team: Counter[str], book: Rulebook, warnings: list[str]
) -> None:
    of = "" if draft.round is None else f"Round {draft.round}: "
    sections = Counter(row.section for row in draft.rows if row.status is not Status.VACANT)
    warnings += [
        f"{of}section {section} has one angler, who is first and last in it."
        for section, count in sections.items()
        if count == 1
    ]
    for team, count in sorted(in_team.items()):
        here = {row.section for row in draft.rows if row.team == team}
        lacking = [section for section in sections if section not in here]
        if count < book.team.size and lacking:
            warnings.append(
                f"{of}{team} have {number_word(count)} of {number_word(book.team.size)}: absent "
                f"in section {and_list(lacking[: book.team.size - count])}."
            )
    warnings += [
        f"{of}{row.angler} weighed nothing, which is scored as a blank."
        for row in draft.rows
        if row.status is Status.WEIGHED and not sum(row.nets)
    ]


def check_season(
    drafts: Sequence[Draft], columns: Collection[str], book: Rulebook, warnings: list[str]
) -> None:
    """Warn of what looks like a slip over all the matches."""
    for what, names in (
        ("team", {row.team for draft in drafts for row in draft.rows}),
        ("angler", {row.angler for draft in drafts for row in draft.rows}),
    ):
        written: dict[str, list[str]] = {}
        for name in sorted(names - {""}):
            written.setdefault(name.casefold(), []).append(name)
        warnings += [
            f"One {what} or more? {and_list(alike)} differ in capitals only, and count apart."
            for alike in written.values()
            if len(alike) > 1
        ]
    dated = sorted((d.round, d.about["date"][0]) for d in drafts if d.round and "date" in d.about)
    warnings += [
        f"Round {later} is dated {second}, before round {earlier} on {first}."
        for (earlier, first), (later, second) in pairwise(dated)
        if second < first
    ]
    rules = book.section
    by_teams = (rules.top, rules.absent, rules.vacant, rules.disqualified)
    nobody = not any(row.team for draft in drafts for row in draft.rows)
    if nobody and any(str(rule.key).startswith("teams") for rule in by_teams):
        warnings.append(
            "The rule book counts points by the number of teams, and no row names a team: "
            "points come out too low, or nought."
        )
    if "penalty" in columns and book.season.score == BY_WEIGHT:
        warnings.append(
            "This league adds up weight, so penalty points change no table. "
            "Use weight_penalty to take weight off."
        )


def check_unit(reading: Reading) -> None:
    """Say it once where the whole sheet is weighed in the unit the rule book does not name."""
    bad = reading.unreadable
    if len(bad) < 2 or 2 * len(bad) < reading.count:
        return
    if all(in_other_unit(text, reading.unit) for text in bad):
        other = Unit.KG if reading.unit is Unit.LB_OZ else Unit.LB_OZ
        words = (
            f'The weights look like {other.value}, and the rule book says unit = "{reading.unit}". '
            f'Use a rule book with unit = "{other.value}".'
        )
        reading.faults.append(Fault(None, "", words))
