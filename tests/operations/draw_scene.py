"""What the tests of the draw share: the published vector, and who is on which peg."""

from __future__ import annotations

from league.models import Entry, Match

# SHA256("demo secret 1"), the published test vector.
SECRET = "6f223adf4c1491f17bae5b6645854a417f21296a5b5a34ed0cdab055373dc868"
COMMITMENT = "a38766034110f37c6cfbe4678289891048338075d53a9cb3f8e47642ddf6d760"
FIRST_REVEALED = "3301c992bb0c7ae7aa22e89d6e9a0b37cd04d09eed22cf64a973aa0be8a91110"


def pegs_of(match: Match) -> dict[int, str | None]:
    return {
        entry.number: entry.match_peg.peg.number if entry.match_peg else None
        for entry in Entry.objects.of(match).in_booking_order()
    }
