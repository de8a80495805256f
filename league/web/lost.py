"""What is asked for and is not there, where more can be said than that."""

from __future__ import annotations

from typing import Any

from django.http import Http404


class NothingThereError(Http404):
    """
    A page that is not there, told in a page of its own.

    Raised only where whoever asks may know: it says more than that nothing is there.
    """

    def __init__(self, template: str, context: dict[str, Any]) -> None:
        super().__init__(template)
        self.template = template
        self.context = context
