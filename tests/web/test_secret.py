"""The secret of a draw before its reveal: searched for wherever the site says or keeps anything."""

from __future__ import annotations

import base64
import logging
import re
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import connection
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

from league.models import DrawEvent, DrawRecord, Entry, MatchPeg, OfficeName
from league.operations.draw import begin, call, finish, freeze, late_entry, seal
from league.operations.lineup import book_in
from league.rules import draw
from tests.builders import give_office, make_match, make_season
from tests.factories import AnglerFactory, ClubFactory, UserFactory
from tests.operations.draw_scene import SECRET

LINKS = draw.chain(SECRET)  # the secret and its five links; the last is published


def spellings(link: str) -> list[bytes]:
    """A link as it could be written: hexadecimal, upper case, raw, base64."""
    raw = bytes.fromhex(link)
    return [link.encode(), link.upper().encode(), raw, base64.b64encode(raw)[:40], raw[::-1]]


def leaks(data: bytes, links: list[str]) -> list[str]:
    return [link for link in links if any(spelt in data for spelt in spellings(link))]


@pytest.fixture
def match(club):
    """A draw begun, one of two numbers called: the secret is locked away and nothing revealed."""
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": 3, "B": 3}, drawn=False)
    for section in match.sections.all():
        for team in season.teams.order_by("pk"):
            book_in(match, AnglerFactory(club=club), team=team, section=section, by=None)
    seal(match, by=None, secret=SECRET)
    freeze(match, callers=[1, 2], by=None)
    call(begin(match, by=None), {1: 4071}, by=None)
    return match


def readers(club) -> dict[str, Client]:
    """A stranger, the secretary, and whoever may open every set-up screen."""
    people = {"stranger": Client()}
    user = UserFactory()
    give_office(club, user, OfficeName.SECRETARY)
    people["secretary"] = Client()
    people["secretary"].force_login(user)
    people["superuser"] = Client()
    people["superuser"].force_login(UserFactory(is_staff=True, is_superuser=True))
    return people


def addresses(match, *, admin: bool) -> list[str]:
    """Every address of the site, with this match wherever a route names one."""
    known = {
        "slug": match.club.slug,
        "match_id": match.pk,
        "season_id": match.season_id,
        "entry_id": match.entries.first().pk,
        "angler_id": match.entries.first().angler_id,
        "team_id": match.season.teams.first().pk,
        "object_id": 1,
    }

    def walk(patterns, before: str):
        for each in patterns:
            route = before + str(each.pattern).removeprefix("^").removesuffix("$")
            if isinstance(each, URLResolver):
                if admin or each.app_name != "admin":
                    yield from walk(each.url_patterns, route)
            elif isinstance(each, URLPattern):
                yield route

    return [
        "/" + re.sub(r"<(?:\w+:)?(\w+)>", lambda found: str(known.get(found[1], 1)), route)
        for route in walk(get_resolver().url_patterns, "")
        if "(?P" not in route and "logout" not in route and "sign-out" not in route
    ]


@pytest.mark.parametrize(
    "who",
    [
        "secretary",
        *(pytest.param(each, marks=pytest.mark.long) for each in ("stranger", "superuser")),
    ],
)
def test_no_page_and_no_set_up_screen_shows_it(match, who):
    reader = readers(match.club)[who]
    shown = {}
    for address in addresses(match, admin=True):
        answer = reader.get(address)
        shown[address] = answer.status_code
        body = b"".join(answer) if answer.streaming else answer.content
        assert leaks(body, LINKS[:5]) == [], address
        assert leaks(str(answer.headers).encode(), LINKS[:5]) == [], address

    # The search found pages to look at, the draw's own among them.
    assert list(shown.values()).count(200) >= 12
    assert shown[f"/matches/{match.pk}/draw/check/"] == 200
    assert LINKS[5] in reader.get(f"/matches/{match.pk}/draw/").content.decode()


def test_after_the_first_reveal_only_that_link_is_out(match):
    event = DrawEvent.objects.get()
    call(event, {2: 12}, by=None)
    finish(event, by=None)
    late_entry(match, AnglerFactory(club=match.club), section=match.sections.first(), by=None)
    reader = readers(match.club)["secretary"]

    bodies = []
    for address in addresses(match, admin=False):
        answer = reader.get(address)
        bodies.append(b"".join(answer) if answer.streaming else answer.content)

    everything = b"\n".join(bodies)
    assert leaks(everything, LINKS[:4]) == []
    assert leaks(everything, [LINKS[4]]) == [LINKS[4]]


def test_no_log_line_has_it_from_the_sealing_to_the_reveal(club, caplog):
    season = make_season(club, teams=["Tannery Lane"])
    match = make_match(club, season=season, sections={"A": 3}, drawn=False)
    angler = AnglerFactory(club=club)
    with caplog.at_level(logging.DEBUG):
        logging.getLogger("django.db.backends").setLevel(logging.DEBUG)
        connection.force_debug_cursor = True
        try:
            book_in(match, angler, section=match.sections.get(), by=None)
            seal(match, by=None, secret=SECRET)
            freeze(match, callers=[1], by=None)
            call(begin(match, by=None), {1: 1}, by=None)
            readers(club)["secretary"].get(f"/matches/{match.pk}/draw/")
        finally:
            connection.force_debug_cursor = False
            logging.getLogger("django.db.backends").setLevel(logging.NOTSET)

    assert "draw_event" in caplog.text.lower() or "drawevent" in caplog.text.lower()
    assert leaks(caplog.text.encode(), LINKS[:5]) == []


def test_an_error_report_in_the_midst_of_a_reveal_does_not_have_it(match, settings, caplog):
    settings.DEBUG = True  # the fullest report there is: every variable of every call
    MatchPeg.objects.filter(match=match).delete()  # what the pegs are written on is gone
    reader = readers(match.club)["secretary"]
    reader.raise_request_exception = False

    answer = reader.post(f"/matches/{match.pk}/draw/calls/", {"call_1": "4071", "call_2": "12"})

    report = answer.content
    assert answer.status_code == 500
    assert b"could not be finished, and nothing was changed" in report
    assert b"take_calls" in report  # it is a report with its frames
    assert leaks(report, LINKS[:5]) == []
    assert leaks(caplog.text.encode(), LINKS[:5]) == []
    assert DrawEvent.objects.get().is_open
    assert not Entry.objects.filter(match=match, match_peg__isnull=False).exists()


def test_what_is_kept_of_the_draw_is_not_readable(match):
    record = DrawRecord.objects.get()

    assert leaks(bytes(record.sealed_secret), LINKS[:5]) == []
    assert not record._meta.get_field("sealed_secret").editable
    assert leaks(repr(record.__dict__).encode(), LINKS[:5]) == []


def test_the_journal_and_the_sessions_do_not_have_it(match):
    reader = readers(match.club)["secretary"]
    reader.post(f"/matches/{match.pk}/draw/calls/", {"call_1": "4071", "call_2": ""}, follow=True)

    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f'SELECT * FROM "{table}"')  # noqa: S608  our own tables' names
            rows = [
                value.tobytes() if isinstance(value, memoryview) else str(value).encode()
                for row in cursor.fetchall()
                for value in row
            ]
            assert leaks(b"\n".join(rows), LINKS[:5]) == [], table


def test_the_whole_record_unloaded_does_not_have_it(match, tmp_path):
    ClubFactory(name="Brackenford AC", slug="brackenford")

    call_command("unload", tmp_path / "out", club=match.club.slug, stdout=StringIO())

    files = [path for path in (tmp_path / "out").rglob("*") if path.is_file()]
    assert files
    for path in files:
        assert leaks(path.read_bytes(), LINKS[:5]) == [], path.name
