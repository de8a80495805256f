"""What every page's head needs: the club, its pages and the offices of whoever is signed in."""

from typing import Any

from django.http import HttpRequest


def club_pages(request: HttpRequest) -> dict[str, Any]:
    """Name the club and its pages; empty where there is no club yet."""
    return {}
