"""Where the next thing is done: from the rules' answer to an address."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from django.urls import reverse

from league.models import Match
from league.operations.score import book_of
from league.rules.stages import Next, Task
from league.web.walk import Stop


@dataclass(frozen=True, slots=True)
class Button:
    """The one orange thing on a screen: a link, or an act that is posted."""

    words: str
    url: str
    posts: bool = False


def button_for(thing: Next, match: Match, walk: Sequence[Stop] = ()) -> Button | None:
    """The button that does the next thing; None where there is nothing to press."""
    if not thing.button:
        return None
    if thing.task is Task.BOOK_IN and match.season_id and book_of(match).team.size > 1:
        # Teams come with their squads: one press for everybody, not one angler after another.
        line_ups = reverse("desk-line-ups", args=[match.club.slug, match.pk])
        return Button("Name the line-ups", line_ups)
    return Button(thing.button, _WHERE[thing.task](match, walk), thing.task is Task.MAKE_FINAL)


def _on_the_screen(anchor: str) -> Callable[[Match, Sequence[Stop]], str]:
    return lambda match, walk: f"{reverse('match-run', args=[match.pk])}#{anchor}"


def _page(name: str) -> Callable[[Match, Sequence[Stop]], str]:
    return lambda match, walk: reverse(name, args=[match.pk])


def _scales(match: Match, walk: Sequence[Stop]) -> str:
    following = next((stop for stop in walk if not stop.weighed), None)
    if following is None or not any(stop.weighed for stop in walk):
        return reverse("scales", args=[match.pk])
    return reverse("scales-weigh", args=[match.pk, following.entry.pk])


_WHERE: dict[Task, Callable[[Match, Sequence[Stop]], str]] = {
    Task.BOOK_IN: _on_the_screen("book-in"),
    Task.SECTIONS: _on_the_screen("pegs"),
    Task.DRAW: _page("draw"),
    Task.WEIGH: _scales,
    Task.SETTLE: _on_the_screen("settle"),
    Task.PUBLISH: _page("run-publish"),
    Task.CORRECT: _page("run-publish"),
    Task.ANSWER: _page("objections"),
    Task.WAIT: _on_the_screen("result"),
    Task.MAKE_FINAL: _page("run-final"),
    Task.NOTHING: _on_the_screen("result"),
}
