"""The site as it is served for real: settings, headers, cookies and the files a machine needs."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from django.test import Client

from tests.factories import UserFactory

ROOT = Path(__file__).resolve().parents[2]
SERVING = ROOT / "fixtures" / "serving"
PRODUCTION = {
    "DRAWBAG_SECRET_KEY": "f3VqO0m1eXb7sJ2kQ9wYtR5uIaZcD8nGhL6pEoKxUyTiBvMd",
    "DRAWBAG_DRAW_KEY": "aQ4rT7yU1iO9pL3kJ6hG2fD8sZ5xC0vBnM",
    "DRAWBAG_HTTPS": "1",
    "DRAWBAG_HOSTS": "league.example.org",
    "DRAWBAG_HSTS_DAYS": "365",
    "DRAWBAG_HSTS_SUBDOMAINS": "1",
}


def run(*args: str, more: dict[str, str], data: Path) -> subprocess.CompletedProcess[str]:
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    return subprocess.run(
        [sys.executable, *args],
        cwd=ROOT,
        env={**kept, "DRAWBAG_DATA": str(data), **more},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_deployment_check_has_nothing_to_say(tmp_path: Path) -> None:
    secret = PRODUCTION["DRAWBAG_SECRET_KEY"] + "longer"

    done = run(
        *("manage.py", "check", "--deploy", "--fail-level", "INFO"),
        more=PRODUCTION | {"DRAWBAG_SECRET_KEY": secret},
        data=tmp_path,
    )

    assert done.returncode == 0, done.stderr
    assert "no issues (0 silenced)" in done.stdout


HEADERS = """
import os, json, django
django.setup()
from django.test import Client
from django.conf import settings
from django.core.management import call_command
call_command("migrate", verbosity=0)
settings.STORAGES["staticfiles"]["BACKEND"] = (
    "django.contrib.staticfiles.storage.StaticFilesStorage")
plain = Client().get("/sign-in/", HTTP_HOST="league.example.org")
told = {"HTTP_HOST": "league.example.org", "HTTP_X_FORWARDED_PROTO": "https"}
client = Client()
page = client.get("/sign-in/", **told)
from django.contrib.auth.models import User
User.objects.create_user("len", password="willow-float-mere-29")
done = client.post("/sign-in/", {"username": "len", "password": "willow-float-mere-29"}, **told)
told_off = client.post("/account/sign-out-everywhere/", **told)
said = told_off.cookies["__Host-messages"]
health = Client().get("/health.json", HTTP_HOST="localhost")
strange = Client().get("/sign-in/", HTTP_HOST="evil.example", HTTP_X_FORWARDED_PROTO="https")
print(json.dumps({
    "plain": [plain.status_code, plain.headers.get("Location")],
    "headers": dict(page.headers),
    "cookies": {name: {k: str(v) for k, v in c.items()} for name, c in
                {**page.cookies, **done.cookies}.items()},
    "hash": User.objects.get().password.split("$")[0],
    "said": {"key": said.key, "secure": said["secure"], "httponly": said["httponly"]},
    "health": health.status_code, "strange": strange.status_code,
}))
"""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    """Answers of the site with the settings of a machine behind https."""
    done = run(
        "-c",
        HEADERS,
        more=PRODUCTION | {"DJANGO_SETTINGS_MODULE": "league.settings"},
        data=tmp_path_factory.mktemp("served"),
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, object] = json.loads(done.stdout.splitlines()[-1])
    return found


def test_plain_http_is_sent_to_https_and_another_hosts_name_is_refused(served) -> None:
    assert served["plain"] == [301, "https://league.example.org/sign-in/"]
    assert served["strange"] == 400
    assert served["health"] == 200


def test_every_page_carries_the_headers_that_browsers_keep_people_safe_by(served) -> None:
    headers = served["headers"]

    assert headers["Strict-Transport-Security"] == ("max-age=31536000; includeSubDomains; preload")
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "base-uri 'none'" in policy
    assert "unsafe" not in policy
    assert "*" not in policy
    assert "Access-Control-Allow-Origin" not in headers


def test_cookies_go_by_https_alone_and_no_script_reads_the_session(served) -> None:
    session = served["cookies"]["__Host-sessionid"]
    csrf = served["cookies"]["__Host-csrftoken"]

    assert (session["secure"], session["httponly"], session["samesite"]) == ("True", "True", "Lax")
    assert (session["path"], session["domain"]) == ("/", "")
    assert (csrf["secure"], csrf["samesite"]) == ("True", "Lax")
    assert all(name.startswith("__Host-") for name in served["cookies"])


def test_what_was_said_goes_by_a_cookie_of_this_host_alone(served) -> None:
    assert served["said"]["key"] == "__Host-messages"
    assert served["said"]["secure"]
    assert served["said"]["httponly"]


def test_passwords_are_kept_by_argon2(served) -> None:
    assert served["hash"] == "argon2"


def test_a_form_without_its_token_is_refused(db: None) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(UserFactory())

    for address in ("/sign-in/", "/sign-out/", "/account/password/", "/forgotten/"):
        assert client.post(address, {}).status_code == 403, address


def test_more_than_the_site_takes_is_refused(db: None, stranger: Client) -> None:
    answer = stranger.generic("POST", "/sign-in/", bytes(django_settings.MOST_BYTES + 1))
    odd = stranger.generic("POST", "/sign-in/", CONTENT_LENGTH="-1")

    assert answer.status_code == 413
    assert answer.content.decode().startswith("That is too much at once: 6 MB at most.")
    assert odd.status_code == 413


def test_what_goes_wrong_tells_a_stranger_nothing(tmp_path: Path) -> None:
    assert django_settings.DEBUG is False
    done = run(
        "-c",
        "import django; django.setup()\nfrom django.conf import settings; print(settings.DEBUG)",
        more={"DJANGO_SETTINGS_MODULE": "league.settings", **PRODUCTION},
        data=tmp_path,
    )
    assert done.stdout.strip() == "False"


@pytest.mark.parametrize("said", ["ten", "-1", "99999"])
def test_a_number_of_days_that_is_none_is_told(tmp_path: Path, said: str) -> None:
    done = run("manage.py", "check", more={"DRAWBAG_KEEP_BACKUPS": said}, data=tmp_path)

    assert done.returncode == 1
    assert f"DRAWBAG_KEEP_BACKUPS is a number of days, such as 30, and not {said}." in done.stderr


def test_every_setting_that_the_machines_file_names_is_read() -> None:
    named = set(re.findall(r"^#? ?([A-Z_]+)=", (SERVING / "drawbag.env").read_text(), re.M))
    read = (ROOT / "league" / "settings.py").read_text()

    assert named
    assert [name for name in named if f'"{name}"' not in read] == []


@pytest.mark.skipif(not shutil.which("systemd-analyze"), reason="systemd is not here.")
def test_the_unit_reads_as_systemd_reads_it() -> None:
    done = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", str(SERVING / "drawbag.service")],
        capture_output=True,
        text=True,
        check=False,
    )
    # What is not installed here, the program itself and its settings, is not the unit's fault.
    faults = [
        line
        for line in done.stderr.splitlines()
        if "drawbag.service" in line
        and "not executable" not in line
        and "Failed to load" not in line
    ]
    assert faults == []
