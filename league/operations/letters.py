"""The letters of a match: to whom, what they say to begin with, and the link in a captain's."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import time

from django.contrib.auth.models import User
from django.utils.formats import date_format

from league.models import Angler, CaptainPass, Entry, Match, Reserve, SquadMember, Team
from league.operations.captains import make_link
from league.operations.errors import RefusedError
from league.operations.mail import Letter, Sent, preview, send_each

LINK = "[link]"  # stands in a captain's letter where the link of the team will be
CAPTAINS, BOOKED, WAITING, EVERYBODY = "captains", "booked", "waiting", "everybody"


@dataclass(frozen=True, slots=True)
class Audience:
    """Who a letter is for: those with an address, and the names of those without."""

    key: str
    words: str
    anglers: tuple[Angler, ...]

    @property
    def addresses(self) -> tuple[str, ...]:
        """Each address once."""
        return tuple(dict.fromkeys(each.email for each in self.anglers if each.email))

    @property
    def without(self) -> tuple[str, ...]:
        """Who cannot be reached."""
        return tuple(str(each) for each in self.anglers if not each.email)


def audiences(match: Match) -> list[Audience]:
    """Everybody a letter about *match* may be for; a group of nobody is left out."""
    booked = [entry.angler for entry in Entry.objects.of(match).in_booking_order()]
    waiting = [each.angler for each in Reserve.objects.waiting(match)]
    captains = (
        [each.angler for each in SquadMember.objects.captains_of(match.season)]
        if match.season
        else []
    )
    groups = [
        (CAPTAINS, "The captains, each with the link of the team", captains),
        (BOOKED, "Everybody booked in", booked),
        (WAITING, "The reserves and the waiting list", waiting),
        (EVERYBODY, "Every angler of the club", list(Angler.objects.of(match.club))),
    ]
    return [Audience(key, words, tuple(found)) for key, words, found in groups if found]


def first_draft(match: Match, audience: str) -> tuple[str, str]:
    """Subject and text to begin with; the match secretary writes what is true this time."""
    day = date_format(match.date, "l j F")
    subject = f"{match.title}, {match.water.name}, {day}"
    hours = [
        f"{what} {at:%H:%M}"
        for what, at in (
            ("book in by", match.book_in),
            ("draw", match.draw_at),
            ("all in", match.all_in),
            ("all out", match.all_out),
        )
        if isinstance(at, time)
    ]
    when = f"{match.title} is on {day} at {match.water.name}."
    if hours:
        said = ", ".join(hours)
        when += f" {said[0].upper()}{said[1:]}."
    asks = {
        CAPTAINS: f"Please name your line-up here, on the phone if you like:\n\n{LINK}\n\n"
        "The link is for your team alone. It ends when the draw begins.",
        BOOKED: "You are booked in. If you cannot come, tell me as soon as you can, so that "
        "somebody else can have the place.",
        WAITING: "You are on the list. I will tell you as soon as a place comes free.",
    }
    care = "Look out for overhead lines, and mind the weather. Venue rules come first."
    parts = [when, asks.get(audience, "Book in with me if you would like to fish."), care]
    return subject, "\n\n".join(parts) + "\n"


def look_at(match: Match, audience: Audience, subject: str, text: str, *, by: User) -> Letter:
    """The letter as it would go; a captain's says where the link will stand."""
    if audience.key == CAPTAINS and LINK not in text:
        raise RefusedError(
            f"The link has to stand somewhere: write {LINK} where it goes, or choose another group."
        )
    return preview(match.club, subject, text, audience.addresses, by=by)


def send_letters(
    match: Match,
    audience: Audience,
    subject: str,
    text: str,
    *,
    by: User,
    address_of: Callable[[str], str],
) -> Sent:
    """
    Send what was looked at. Captains' links are made now, since only their digests are kept.

    *address_of* makes a page's address out of a link's token.
    """
    letter = look_at(match, audience, subject, text, by=by)
    if audience.key != CAPTAINS:
        return send_each(match.club, [letter], by=by, match=match)
    return send_each(
        match.club, _with_links(match, letter, by=by, address_of=address_of), by=by, match=match
    )


def _with_links(
    match: Match, letter: Letter, *, by: User, address_of: Callable[[str], str]
) -> Sequence[Letter]:
    if match.season is None:
        return []
    letters = []
    reached = {address.casefold(): address for address in letter.to}
    made: dict[Team, tuple[CaptainPass, str]] = {}
    for captain in SquadMember.objects.captains_of(match.season):
        address = reached.get(captain.angler.email.casefold())
        if address is None:
            continue
        # Two captains of one team get one link: a second would take the first one's place.
        if captain.team not in made:
            made[captain.team] = make_link(match, captain.team, by=by)
        link = address_of(made[captain.team][1])
        letters.append(replace(letter, text=letter.text.replace(LINK, link), to=(address,)))
    if letters:
        letters[0] = replace(letters[0], left_out=letter.left_out)
    return letters
