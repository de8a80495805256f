"""Set-up screens: waters and their pegs, clubs, members. Never a match day: acts have pages."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest
from django.urls import reverse
from django.utils.html import format_html

from league.models import Angler, Club, League, Office, Peg, Venue, Water

admin.site.site_header = admin.site.site_title = "Drawbag set-up"
admin.site.index_title = "Clubs, waters and members"


class OfficeInline(admin.TabularInline):
    """Who holds which office."""

    model = Office
    extra = 0
    autocomplete_fields = ("user",)


class WaterInline(admin.TabularInline):
    """The waters of a venue."""

    model = Water
    extra = 0
    show_change_link = True


class PegInline(admin.TabularInline):
    """The pegs along a water, in the order of the bank."""

    model = Peg
    extra = 0
    ordering = ("order",)


@admin.register(Club)
class ClubAdmin(admin.ModelAdmin):
    """A club and its officers."""

    list_display = ("name", "public", "objection_hours", "paper")
    prepopulated_fields = {"slug": ("name",)}
    search_fields = ("name",)
    inlines = (OfficeInline,)


@admin.register(Angler)
class AnglerAdmin(admin.ModelAdmin):
    """Anglers, with what may be printed of juniors."""

    list_display = ("name", "club", "junior", "consent_to_publish", "easy_access")
    list_filter = ("club", "junior", "easy_access")
    list_select_related = ("club",)
    search_fields = ("name",)
    autocomplete_fields = ("user",)

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """
        What may be printed of somebody on record is changed on their own page, and not here.

        There it goes through everything that is published; here it would only change the list.
        """
        return ("name", "junior", "consent_to_publish", "initial_only", "own_page") if obj else ()

    @admin.display(description="Name, junior, consent")
    def own_page(self, angler: Angler) -> str:
        """The way to the page that carries a change through."""
        address = reverse("person", args=[angler.club.slug, angler.pk])
        return format_html('<a href="{}">Change them on the angler’s page</a>', address)


@admin.register(Venue)
class VenueAdmin(admin.ModelAdmin):
    """A fishery and its waters."""

    list_display = ("name", "club")
    list_filter = ("club",)
    list_select_related = ("club",)
    search_fields = ("name",)
    inlines = (WaterInline,)


@admin.register(Water)
class WaterAdmin(admin.ModelAdmin):
    """A water and its pegs."""

    list_display = ("name", "venue")
    list_select_related = ("venue",)
    search_fields = ("name", "venue__name")
    inlines = (PegInline,)


@admin.register(League)
class LeagueAdmin(admin.ModelAdmin):
    """A league's name; seasons, with their rules and rounds, are made by the season operations."""

    list_display = ("name", "club")
    list_filter = ("club",)
    list_select_related = ("club",)
    prepopulated_fields = {"slug": ("name",)}
