"""The result of a match, version by version, and the list of results."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.columns import match_columns
from league.models import Result
from league.operations import score
from league.web import access, downloads
from league.web.context import at_club
from league.web.lost import NothingThereError
from league.web.pages import result as page
from league.web.pages.no_result import nothing
from league.web.pages.previews import event, preview_of_result
from league.web.pages.standings import rules_url
from league.web.published import for_every_stranger, kept, stamp
from league.web.result_sheets import result_sheet_of

ON_A_PAGE = 40


@require_safe
@access.for_readers
def result(request: HttpRequest, match_id: int, version: int | None = None) -> HttpResponse:
    """A result as published; without a number, the newest version."""
    return for_every_stranger(
        request,
        lambda: Result.objects.seal(match_id, version),
        lambda: _page(request, result_for(request, match_id, version)),
    )


def _page(request: HttpRequest, found: Result) -> HttpResponse:
    matter = kept(
        "result/_result.html",
        f"{stamp(found)} of {found.in_force}",
        lambda: page.matter(found, list(Result.objects.of(found.match))),
    )
    context = {
        "matter": matter,
        "title": page.title(found),
        "preview": preview_of_result(request, found),
        "event": event(request, found.match, found),
        "rules_url": rules_url(found.match.season),
    }
    return render(request, "result/result.html", context)


@require_safe
@access.for_readers
def results(request: HttpRequest, slug: str | None = None) -> HttpResponse:
    """The club's results, newest first."""
    club = access.only_club_for(request.user, slug)
    at_club(request, club)
    pages = Paginator(Result.objects.of_club(club).defer("document"), ON_A_PAGE)
    return render(request, "result/results.html", {"page": pages.get_page(request.GET.get("page"))})


@require_safe
@access.for_readers
def sheet(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The A4 sheet for the wall."""
    found = result_for(request, match_id, version)
    return downloads.pdf_file(_name(found), result_sheet_of(request, found))


@require_safe
@access.for_readers
def as_csv(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """Every angler, section by section, for a spreadsheet."""
    found = result_for(request, match_id, version)
    worked = score.read(found)
    lines = [line for section in worked.sections for line in section.lines]
    decided = any(line.row.decision for line in lines)
    text = downloads.written_csv(match_columns(worked.unit, decisions=decided), lines)
    return downloads.csv_file(_name(found), text)


@require_safe
@access.for_readers
def as_json(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The result file, for a program."""
    found = result_for(request, match_id, version)
    return downloads.json_file(_name(found), downloads.result_document(found))


def _name(result: Result) -> str:
    match = result.match
    return f"{match.date.isoformat()} {match.title} {match.water} version {result.version}"


def result_for(request: HttpRequest, match_id: int, version: int | None) -> Result:
    """A version that whoever asks may read; in words, where there is none of that number."""
    result = Result.objects.readable_by(request.user).version_of(match_id, version).first()
    if result is None:
        match = access.match_for(request.user, match_id)
        at_club(request, match.club)
        raise NothingThereError("result/none.html", nothing(match, version))
    at_club(request, result.match.club)
    return result
