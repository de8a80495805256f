"""What a rule book may say but somebody will be sorry for, each with the sentence that says why."""

from __future__ import annotations

from league.rules.figures import points_said
from league.rules.policies import exact
from league.rules.rulebook import ALL_ZERO, BY_WEIGHT, Rulebook
from league.rules.statuses import NO_SCORE, ScoreRule


def traps(book: Rulebook) -> list[str]:
    """The traps in *book*, in the order of its keys; none of them stops it being used."""
    low = book.sign > 0
    return [
        *_fixed_scores(book, low),
        *_after_the_last_with_fish(book, low),
        *_counted_upwards(book, low),
        *_season(book, low),
    ]


def _number(rule: ScoreRule | None) -> int | float | None:
    key = rule.key if rule else None
    return key if isinstance(key, (int, float)) else None


def _fixed_scores(book: Rulebook, low: bool) -> list[str]:
    found = []
    blank, absent = _number(book.section.blank), _number(book.section.absent)
    if blank is not None and low:
        said = points_said(exact(blank))
        found.append(
            f"blank = {blank}: a blank scores {said} in every section. In a section where more "
            "anglers than that weigh in, a blank beats the last of them. "
            'Write "last place" or "N+1" to rule that out.'
        )
    elif blank:
        found.append(
            f"blank = {blank}: the last weigher of a full section may score no more than a blank. "
            "Write 0 to rule that out."
        )
    if absent is not None and low:
        found.append(
            f"absent = {absent}: in a section longer than that, staying away scores better than "
            'coming last. Look at it again when entries grow, or write "N+1".'
        )
    return found


def _after_the_last_with_fish(book: Rulebook, low: bool) -> list[str]:
    rules = book.section
    key = str(rules.blank.key)
    if not low or rules.all_blank or not key.startswith(("F+", "W+")):
        return []
    points = points_said(int(key[2:]))
    return [
        f'blank = "{key}": in a section where nobody has a fish everybody scores {points}, '
        "as good as a high place. Write all_blank to score such a section otherwise."
    ]


def _counted_upwards(book: Rulebook, low: bool) -> list[str]:
    if low:
        return []
    rules = book.section
    named = {
        "blank": rules.blank,
        "not_weighed": rules.not_weighed,
        "withdrew": rules.withdrew,
        "absent": rules.absent,
        "vacant": rules.vacant,
        "disqualified": rules.disqualified,
    }
    return [
        f'{name} = "{rule.key}": this adds to the points, and in high points more is better. '
        "Write a number, or a place such as N+1."
        for name, rule in named.items()
        if str(rule.key).startswith(("W+", "blank+"))
    ]


def _season(book: Rulebook, low: bool) -> list[str]:
    found = []
    season = book.season
    drops = season.best is not None or bool(season.drop)
    if season.cancelled == ALL_ZERO and low and season.score != BY_WEIGHT:
        found.append(
            'cancelled = "all zero": in low points 0 is the best score there is and is never '
            "dropped, so a cancelled round uses up one of the rounds that count. "
            'Write "not fished" to leave it out.'
        )
    if book.section.absent == NO_SCORE and low and not season.minimum:
        found.append(
            'absent = "no score": in low points an angler who stays away has fewer points than '
            "one who comes. Write a minimum of rounds fished."
        )
    if season.undroppable and not drops:
        found.append(
            "undroppable: no round is dropped anyway. Write best or drop, or leave it out."
        )
    if season.score == BY_WEIGHT and not drops and any(r.key == "weight" for r in season.ties):
        found.append(
            'ties: "weight" splits nobody where the season adds up weight and drops nothing. '
            'Write "best round weight" instead.'
        )
    return found
