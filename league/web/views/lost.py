"""Addresses at which there is nothing: said in words where there is more to say."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.defaults import page_not_found

from league.web.lost import NothingThereError


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """A 404 that says what is missing where that is known, else the plain one."""
    if isinstance(exception, NothingThereError):
        return render(request, exception.template, exception.context, status=404)
    return page_not_found(request, exception)
