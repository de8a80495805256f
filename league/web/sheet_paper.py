"""What paper a sheet is set for: the club's own, or the one asked for with ?paper=letter."""

from __future__ import annotations

from django.http import Http404, HttpRequest

from league.models import Club, PaperSize
from league.sheets.page import A4, LETTER, Paper

PAPERS: dict[str, Paper] = {PaperSize.A4: A4, PaperSize.LETTER: LETTER}


def paper_for(request: HttpRequest, club: Club) -> Paper:
    """The paper asked for, else the club's own; no page where it is a paper nobody knows."""
    asked = request.GET.get("paper", club.paper)
    if asked not in PAPERS:
        raise Http404("Sheets are set for paper=a4 or paper=letter. Choose one of them.")
    return PAPERS[asked]
