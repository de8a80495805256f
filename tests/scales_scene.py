"""
A match ready to be weighed, in the database of the settings; prints what a test needs as JSON.

    python -m tests.scales_scene 24
"""

from __future__ import annotations

import json
import sys

import django


def scene(pegs: int) -> dict[str, object]:
    """Two sections of so many pegs, a rule book with a net limit, two pairs of scalesmen."""
    from django.contrib.auth import get_user_model
    from django.contrib.sessions.backends.db import SessionStore
    from django.test import Client

    from league.models import Entry, Match, OfficeName
    from league.operations.passes import make_pass
    from league.rules.walks import Walk
    from tests.builders import give_office, make_entry, make_match, make_season
    from tests.factories import AnglerFactory, ClubFactory

    club = ClubFactory(name="Marlbrook & District AC", slug="marlbrook")
    season = make_season(
        club, teams=TEAMS, book={"name": "Winter Team League", "net": {"limit": "40-0"}}
    )
    half = pegs // 2
    match = make_match(season=season, sections={"A": half, "B": pegs - half}, per_section=99)
    teams = list(season.teams.order_by("pk"))
    for number in range(1, pegs + 1):
        first = FIRST[number % len(FIRST)]
        last = LAST[(number * 3 + number // 7) % len(LAST)]
        angler = AnglerFactory(club=club, name=f"{first} {last}")
        make_entry(match, peg=number, angler=angler, team=teams[number % len(teams)])
    people = {}
    for name, office in (("sam", OfficeName.SECRETARY), ("ivy", OfficeName.SCALES)):
        user = get_user_model().objects.create_user(name, password="for tests only")
        give_office(club, user, office)
        client = Client()
        client.force_login(user)
        people[name] = client.session.session_key
    assert SessionStore(people["sam"]).exists(people["sam"])
    match = Match.objects.get(pk=match.pk)
    passes = {
        "len": make_pass(match, name="Len and Ivy", walk=Walk(), by=None)[1],
        "ken": make_pass(match, name="Ken and Jo", walk=Walk(("B",), backwards=True), by=None)[1],
    }
    entries = [entry.pk for entry in Entry.objects.of(match).in_peg_order()]
    return {"match": match.pk, "people": people, "passes": passes, "entries": entries}


TEAMS = ["Tannery Lane", "Old Quarry", "Pennyfold", "Millrace"]
FIRST = ["Keith", "Ana", "Hugh", "Sue", "Ian", "Dave", "Norma", "Pete", "Jo", "Alan", "Ray"]
LAST = ["Wraggley", "Ferradas", "Amblerton", "Hadlowe", "Peverill", "Scrimshire", "Tolliver"]


if __name__ == "__main__":
    django.setup()
    sys.stdout.write(json.dumps(scene(int(sys.argv[1]))))
