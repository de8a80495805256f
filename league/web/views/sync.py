"""
The phones at the scales: let in, told their walk, and heard. JSON only, and no cookies.

A token in the Authorization header is the only thing that opens these addresses, so that there is
nothing for another site to forge and a lapsed sign-in cannot turn a weight into a sign-in page.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec

from django.contrib.auth.models import User
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.utils.http import parse_etags
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from league.models import Match, Phone
from league.operations.errors import RefusedError
from league.operations.passes import let_in, let_in_person, phone_of
from league.operations.receive import heard_from, receive
from league.web.access import HOLDERS, PHONES, WORKS_THE_SCALES, match_at_scales, open_to
from league.web.phone_data import past_of, walk_data
from league.web.sent import MOST_BYTES, Post, SentError, read, read_object, skew_of

P = ParamSpec("P")
PhoneView = Callable[Concatenate[HttpRequest, Phone, P], HttpResponse]

UNKNOWN = "This phone is not let in. Scan the code for this match again."
STOPPED = "The match secretary has stopped this phone. Its weights stay on it: ask for a new pass."
RUN_OUT = "This pass has run out. The weights stay on this phone: ask for a new pass."


def for_phones(view: PhoneView[P]) -> Callable[..., HttpResponse]:
    """Let a phone with a token in force through; tell any other what to do, in JSON."""

    @wraps(view)
    def wrapped(
        request: HttpRequest, match_id: int, *args: P.args, **kwargs: P.kwargs
    ) -> HttpResponse:
        scheme, _, token = request.headers.get("Authorization", "").partition(" ")
        phone = phone_of(match_id, token.strip()) if scheme.lower() == "bearer" else None
        if phone is None:
            return _words(UNKNOWN, 401)
        if not phone.in_force(timezone.now()):
            taken = phone.revoked_at or (phone.scales_pass and phone.scales_pass.revoked_at)
            return _words(STOPPED if taken else RUN_OUT, 403)
        return view(request, phone, *args, **kwargs)

    return wrapped


@open_to(PHONES)
@csrf_exempt
@require_POST
@never_cache
@for_phones
def send(request: HttpRequest, phone: Phone) -> HttpResponse:
    """Keep what a phone sends and answer for each entry; whatever fails, the phone keeps it."""
    if len(request.body) > MOST_BYTES:
        return _words("That is too much at once. Send fewer weights at a time.", 413)
    try:
        post = read(request.body)
    except SentError as error:
        return _words(str(error), 400)
    now = timezone.now()
    skew = skew_of(post.clock, now)
    try:
        answers = [*post.unreadable, *receive(phone, post.entries, skew=skew, at=now)]
    except DatabaseError:
        # A full disk or a lost database: nothing is refused, the phone keeps all and tries again.
        return _words("The site cannot write just now. The weights stay on this phone.", 503)
    _heard(phone, post, skew)
    return JsonResponse(
        {
            "answers": [
                {
                    "key": str(each.key),
                    "result": each.result,
                    "found": each.found,
                    "words": each.words,
                }
                for each in answers
            ],
            "now": round(now.timestamp() * 1000),
        }
    )


@open_to(PHONES)
@require_safe
@for_phones
def walk(request: HttpRequest, phone: Phone) -> HttpResponse:
    """The walk as it stands: who is where and what has been read. 304 where nothing is new."""
    return _unless_known(request, walk_data(phone))


@open_to(PHONES)
@require_safe
@for_phones
def past(request: HttpRequest, phone: Phone) -> HttpResponse:
    """What is usual at this water, for the guard on the phone."""
    return _unless_known(request, past_of(phone.match))


@open_to(HOLDERS)
@csrf_exempt
@require_POST
@never_cache
def enter(request: HttpRequest, match_id: int) -> HttpResponse:
    """Let a phone in by the secret of a pass."""
    try:
        asked = read_object(request.body)
        phone, token = let_in(
            match_id,
            asked.get("secret", ""),
            name=asked.get("name", ""),
            old_token=asked.get("token", ""),
        )
    except SentError as error:
        return _words(str(error), 400)
    except RefusedError as refused:
        return _words(str(refused), 403)
    return _let_in(phone, token)


@open_to(*WORKS_THE_SCALES)
@require_POST
@never_cache
def enter_signed_in(request: HttpRequest, match_id: int) -> HttpResponse:
    """Let in the phone of whoever is signed in and works the scales."""
    if not isinstance(request.user, User):
        return _words("Scan the code for this match, or sign in.", 401)
    match: Match = match_at_scales(request.user, match_id)
    try:
        asked = read_object(request.body)
        phone, token = let_in_person(
            match, request.user, name=asked.get("name", ""), old_token=asked.get("token", "")
        )
    except SentError as error:
        return _words(str(error), 400)
    return _let_in(phone, token)


def _let_in(phone: Phone, token: str) -> HttpResponse:
    return JsonResponse(
        {
            "token": token,
            "name": phone.name,
            "expires": round(phone.expires_at.timestamp() * 1000),
        }
    )


def _heard(phone: Phone, post: Post, skew: int) -> None:
    """What a phone says of itself is worth less than its weights: these are kept already."""
    waiting = max(post.waiting - len(post.entries) - len(post.unreadable), 0)
    try:
        heard_from(phone, waiting=waiting, skew=skew, last_seq=post.last_seq)
    except DatabaseError:
        return


def _unless_known(request: HttpRequest, data: dict[str, Any]) -> HttpResponse:
    body = json.dumps(data, separators=(",", ":"), ensure_ascii=False).encode()
    etag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    if etag in parse_etags(request.headers.get("If-None-Match", "")):
        answer = HttpResponse(status=304)
    else:
        answer = HttpResponse(body, content_type="application/json")
    answer["ETag"] = etag
    answer["Cache-Control"] = "private, no-cache"
    answer["Vary"] = "Authorization"
    return answer


def _words(words: str, status: int) -> HttpResponse:
    return JsonResponse({"words": words}, status=status)
