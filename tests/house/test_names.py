"""Every exit: a name that is withheld or taken out stands on no page and in no file."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import pytest
from django.apps import apps
from django.test import Client
from pypdf import PdfReader

from league.models import Angler, DrawRecord, Match, OfficeName, Result, SquadMember
from league.operations import names
from league.operations.decide import decide
from league.operations.erase import erase
from league.operations.money import announce_pools, take
from league.operations.money_account import account_of
from league.operations.names import WORDS
from league.operations.payouts import fix_payouts, hand_over, payees
from league.operations.people import About, change_angler
from league.operations.publish import make_final, publish
from league.rules.pools_plan import Plan
from tests.builders import give_office, make_fished_match, make_season
from tests.factories import UserFactory
from tests.house.test_pages import PAGES, _address

RESULTS = {"result", "result-version", "result-pdf", "result-csv", "result-json"}


@pytest.fixture
def match(club: object) -> Match:
    """A final round with a corrected result; its winner is Tom Kerrow, decided on by name."""
    season = make_season(club, teams=["Reds", "Blues"])  # type: ignore[arg-type]
    match = make_fished_match(season=season)
    for entry, team in zip(
        match.entries.order_by("number"), [*season.teams.all()] * 3, strict=True
    ):
        entry.team = team
        entry.save()
    first = match.entries.order_by("number")[0]
    Angler.objects.filter(pk=first.angler_id).update(name="Tom Kerrow")
    SquadMember.objects.create(team=first.team, angler_id=first.angler_id, captain=True)
    DrawRecord.objects.create(match=match, code="r1", names={str(first.number): "Tom Kerrow"})
    publish(match, by=None)
    first.refresh_from_db()
    decide(match, kind="points", entry=first, points=1, why="Tom Kerrow fed early.", by=None)
    publish(match, by=None, correcting=1, why="Tom Kerrow penalised.")
    announce_pools(match, Plan(stake=1000, frame=1000), by=None)
    for entry in match.entries.all():
        take(entry, by=None)
    fix_payouts(match, by=None)
    payee = next(each for each in payees(account_of(match)) if each.due)
    hand_over(match, payee.key, payee.due, by=None)
    # A junior, who pays no stake, only now that the money is handed over.
    Angler.objects.filter(pk=first.angler_id).update(junior=True, consent_to_publish=True)
    make_final(match, by=None, at=Result.objects.of(match).first().objections_until)  # type: ignore[union-attr]
    return match


def _exits(client: Client, match: Match, tom: Angler) -> dict[str, str]:
    """What every page and file says that *client* may open, by its name and address."""
    known = {
        "slug": match.club.slug,
        "match_id": match.pk,
        "season_id": match.season_id,
        "league_id": match.season.league_id if match.season else 0,
        "team_id": match.season.teams.order_by("pk").first().pk if match.season else 0,
        "water_id": match.water_id,
        "angler_id": tom.pk,
        "entry_id": match.entries.get(angler=tom).pk,
    }
    found: dict[str, str] = {}
    for name, route in PAGES:
        for version in (1, 2):
            numbers = {**known, "version": version}
            address = _address(route, numbers)
            if name in {"sign-out", "sign-in"} or f"{name} {address}" in found:
                continue
            answer = client.get(address)
            if answer.status_code == 200:
                found[f"{name} {address}"] = _said(answer)
    return found


def _said(answer: object) -> str:
    content = b"".join(answer) if answer.streaming else answer.content  # type: ignore[attr-defined]
    if content.startswith(b"%PDF"):
        return "\n".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    return content.decode(errors="replace")


def _with(found: dict[str, str], word: str) -> set[str]:
    return {name.split()[0] for name, said in found.items() if word in said}


def _secretary(match: Match) -> Client:
    client = Client()
    user = UserFactory(username="maud")
    for office in OfficeName.values:
        give_office(match.club, user, office)
    client.force_login(user)
    return client


def test_a_name_withheld_and_then_taken_out_stands_at_no_exit(match: Match) -> None:
    tom = Angler.objects.get(name="Tom Kerrow")
    stranger, secretary = Client(), _secretary(match)
    before = _exits(stranger, match, tom)
    # Strangers read it on the result, its versions, sheets and files: the test can fail.
    assert _with(before, "Kerrow") >= RESULTS

    change_angler(tom, About("Tom Kerrow", junior=True), by=None)

    found = _exits(stranger, match, tom)
    assert found.keys() == before.keys()
    assert _with(found, "Kerrow") == set()
    assert _with(found, "Tom K. (junior)") >= RESULTS

    erase(tom, by=None)

    found = _exits(secretary, match, tom)
    assert _with(found, "Kerrow") == set()
    assert _with(found, "Tom K") == set()
    assert _with(found, "Name removed 1") >= RESULTS


# Columns of free words that name no angler, or that nothing published repeats: tried elsewhere.
KNOWN_WORDS = {
    "Act.what",  # reworded where a name is taken out
    "Entry.rang_in",  # emptied where a name is taken out
    "PaymentSetAside.why",  # reached by its payment
    "Payment.what",  # the stake, or a pool by name
    "RulesChange.why",
    "Result.why",  # reworded beside the document
}


def test_every_column_of_free_words_is_searched_for_a_name() -> None:
    """A new table with a why, a note or an answer needs its line in names.py, or here."""
    words = {*WORDS, "rang_in"}
    found = {
        f"{model.__name__}.{field.name}"
        for model in apps.get_app_config("league").get_models()
        for field in model._meta.concrete_fields
        if field.name in words
    }
    source = Path(names.__file__).read_text()
    searched = {each for each in found if re.search(rf"\b{each.split('.')[0]}\b", source)}

    assert found - searched - KNOWN_WORDS == set()
