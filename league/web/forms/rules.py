"""The questions of a rule book as boxes to choose from, made from the policies themselves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from django import forms

from league.files import rulebook
from league.rules.books import READY_MADE
from league.rules.drops import best_of, drop_worst
from league.rules.figures import capital, number_word
from league.rules.ladders import SEASON_RUNGS, TEAM_RUNGS
from league.rules.nets import OVERS
from league.rules.placings import EQUALS
from league.rules.rulebook import CANCELLED, SEASON_SCORES, Rulebook
from league.rules.scale import CAPS, DIRECTIONS, TOPS
from league.rules.statuses import CHOICES, SIZES, score_rule

# How many more, where a rule says N+k, and the plain numbers: those that clubs print.
OFFERED = (1, 2, 3, 5, 10)
NUMBERS = (0, 1, 5, 8)
AS_IT_IS = "as it is"
NONE = "none"

SECTION, STATUSES, NETS = "In a section", "Who is not placed", "Weights"
TEAM, SEASON = "In a team", "Over the season"
STATUS_LABELS = {
    "blank": "A blank scores",
    "all_blank": "Where nobody in a section has fish, a blank scores",
    "not_weighed": "Who fished but did not weigh scores",
    "withdrew": "Who left early scores",
    "absent": "An absent angler scores",
    "vacant": "A place for which nobody was named scores",
    "disqualified": "A disqualified angler scores",
}


@dataclass(frozen=True)
class Question:
    """One rule to choose; *answers* are the words and what the file says, by the box's value."""

    heading: str
    name: str  # the part of the file and its key: section-equal
    label: str
    initial: str
    # Empty where the answer is written in; a mapping says more than one key.
    answers: Mapping[str, tuple[str, Any]] = field(hash=False, default_factory=dict)

    def field(self) -> forms.Field:
        """The box on the page, set to the season's own rule."""
        if not self.answers:
            return forms.CharField(
                label=self.label,
                required=False,
                initial=self.initial,
                max_length=20,
                help_text="A weight, or none.",
            )
        return forms.ChoiceField(
            label=self.label,
            choices=[(value, words) for value, (words, _) in self.answers.items()],
            initial=self.initial,
            error_messages={"invalid_choice": "That is no choice here. Choose one of these."},
        )


def questions(book: Rulebook, rounds: int) -> tuple[Question, ...]:
    """Every rule that can be laid over a season of so many *rounds*, set as *book* has it."""
    kept = rulebook.as_dict(book)
    return (
        *_section(book, kept["section"]),
        *_statuses(book),
        *_nets(kept["net"]),
        *_team(book),
        *_season(book, rounds),
    )


def as_changes(chosen: Mapping[Question, str]) -> dict[str, dict[str, Any]]:
    """What was chosen, by the keys of the file."""
    changes: dict[str, dict[str, Any]] = {}
    for question, value in chosen.items():
        part, key = question.name.split("-", 1)
        said = question.answers[value][1] if question.answers else value.strip() or NONE
        changes.setdefault(part, {}).update(said if isinstance(said, dict) else {key: said})
    section = changes.get("section", {})
    if section.get("direction") == "low":
        # These belong to high points; nobody has to clear them away first.
        changes["section"] = {"top": None, "override": None} | section
    return changes


def _policies(choices: Iterable[Any], own: Any) -> dict[str, tuple[str, Any]]:
    """Named policies, with the season's own among them."""
    found = {str(policy.key): (policy.words, policy.key) for policy in choices}
    found.setdefault(str(own.key), (own.words, own.key))
    return found


def _yes_or_no(yes: str, no: str) -> dict[str, tuple[str, Any]]:
    return {"yes": (yes, True), "no": (no, False)}


def _said(yes: bool) -> str:
    return "yes" if yes else "no"


def _section(book: Rulebook, kept: Mapping[str, Any]) -> Iterator[Question]:
    rules = book.section
    for key, label, policies in (
        ("direction", "Which way points run", DIRECTIONS),
        ("top", "In high points, what first place scores", TOPS),
        ("equal", "Equal weights", EQUALS),
        ("size", "How long a section is", SIZES),
        ("cap", "Sections of different length", CAPS),
    ):
        own = getattr(rules, key)
        answers = _policies(policies.values(), own)
        if key == "top" and isinstance(own.key, tuple):
            answers[str(own.key)] = (own.words, list(own.key))
        yield Question(SECTION, f"section-{key}", label, str(own.key), answers)
    yield Question(
        SECTION,
        "section-others_move_up",
        "Those behind a disqualified angler",
        _said(rules.others_move_up),
        _yes_or_no("Move up a place.", "Do not move up: the place stays open."),
    )


def _statuses(book: Rulebook) -> Iterator[Question]:
    for key, label in STATUS_LABELS.items():
        own = getattr(book.section, key)
        answers = {str(rule.key): (capital(rule.words), rule.key) for rule in _offered(key)}
        if own is None:
            answers = {NONE: ("The same as elsewhere", None)} | answers
        else:
            answers.setdefault(str(own.key), (capital(own.words), own.key))
            if key == "all_blank":
                answers[NONE] = ("The same as elsewhere", None)
        yield Question(STATUSES, f"section-{key}", label, str(own.key) if own else NONE, answers)


def _offered(key: str) -> Iterator[Any]:
    """The rules that *key* may name, with the numbers that clubs print."""
    for choice in CHOICES[key]:
        if choice == "a number":
            yield from (score_rule(key, number) for number in NUMBERS)
        elif choice.endswith("+k"):
            yield from (score_rule(key, f"{choice[:-1]}{more}") for more in OFFERED)
        else:
            yield score_rule(key, choice)


def _nets(kept: Mapping[str, Any]) -> Iterator[Question]:
    yield Question(NETS, "net-limit", "The limit on a net", kept["limit"])
    overs = {str(over.key): (capital(f"{over.words}."), over.key) for over in OVERS.values()}
    yield Question(NETS, "net-over", "A net over the limit", kept["over"], overs)
    yield Question(NETS, "net-tolerance", "The tolerance over it", kept["tolerance"])


def _team(book: Rulebook) -> Iterator[Question]:
    team = book.team
    answers: dict[str, tuple[str, Any]] = {"all": ("Everybody’s points count.", None)}
    for count in range(1, team.size):
        verb = "counts" if count == 1 else "count"
        answers[str(count)] = (f"The best {number_word(count)} of them {verb}.", count)
    own = "all" if team.count in (None, team.size) else str(team.count)
    yield Question(TEAM, "team-count", "Members who count", own, answers)
    yield _ladder(
        TEAM, "team-ties", "Teams level on points", team.ties, TEAM_RUNGS,
        [each.team.ties for each in READY_MADE.values()],
    )  # fmt: skip


def _ladder(
    heading: str, name: str, label: str, own: Any, rungs: Mapping[str, Any], chains: Iterable[Any]
) -> Question:
    """Ladders that are printed somewhere, and each rung alone; any other is for a written book."""
    answers: dict[str, tuple[str, Any]] = {}
    for chain in (own, *chains, *((rung,) for rung in rungs.values()), ()):
        keys = [rung.key for rung in chain]
        words = ", then ".join(rung.words for rung in chain) or "nothing: they share the place"
        answers.setdefault(", ".join(keys) or NONE, (capital(f"{words}."), keys))
    return Question(heading, name, label, ", ".join(rung.key for rung in own) or NONE, answers)


def _season(book: Rulebook, rounds: int) -> Iterator[Question]:
    rules = book.season
    yield Question(
        SEASON, "season-score", "What is added up", str(rules.score.key),
        _policies(SEASON_SCORES.values(), rules.score),
    )  # fmt: skip
    yield _counting(book, rounds)
    numbers = {str(n): (number_word(n) if n else "No minimum", n) for n in range(rounds + 1)}
    numbers.setdefault(str(rules.minimum), (str(rules.minimum), rules.minimum))
    yield Question(
        SEASON, "season-minimum", "Rounds to be fished", str(rules.minimum),
        {value: (capital(words), number) for value, (words, number) in numbers.items()},
    )  # fmt: skip
    yield Question(
        SEASON, "season-cancelled", "A cancelled round", str(rules.cancelled.key),
        _policies(CANCELLED.values(), rules.cancelled),
    )  # fmt: skip
    yield Question(
        SEASON, "season-penalties_after_drop", "Penalty points", _said(rules.penalties_after_drop),
        _yes_or_no("Count after the drops.", "Belong to their round, and are dropped with it."),
    )  # fmt: skip
    yield Question(
        SEASON, "season-disqualified_counts", "A round with a disqualification",
        _said(rules.disqualified_counts),
        _yes_or_no("Cannot be dropped.", "Can be dropped like any other."),
    )  # fmt: skip
    yield _ladder(
        SEASON, "season-ties", "Those level at the end", rules.ties, SEASON_RUNGS,
        [each.season.ties for each in READY_MADE.values()],
    )  # fmt: skip


def _counting(book: Rulebook, rounds: int) -> Question:
    """How many rounds count: the best so many, or all but the worst."""
    rules = book.season
    answers: dict[str, tuple[str, Any]] = {
        "all": ("Every round counts.", {"best": None, "drop": None})
    }
    for count in range(1, rounds):
        answers[f"best {count}"] = (best_of(count).words, {"best": count, "drop": None})
    for count in range(1, rounds):
        answers[f"drop {count}"] = (drop_worst(count).words, {"best": None, "drop": count})
    own = str(rules.drops.key)
    answers.setdefault(own, (rules.drops.words, {}))
    return Question(SEASON, "season-counts", "Rounds that count", own, answers)
