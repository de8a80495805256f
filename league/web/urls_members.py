"""The secretary's anglers, line-ups and booking, letters, objections."""

from django.urls import URLPattern, URLResolver, include, path

from league.web.views import booking, captains, letters, objections, people, people_list

# /clubs/<slug>/people/
people_urls: list[URLPattern | URLResolver] = [
    path("clubs/<slug:slug>/people/", people.people, name="people"),
    path("clubs/<slug:slug>/people/add/", people.add, name="person-add"),
    path("clubs/<slug:slug>/people/bring-in/", people_list.bring_in, name="people-bring-in"),
    path("clubs/<slug:slug>/people/decided/", people_list.decided, name="people-decided"),
    path("clubs/<slug:slug>/people/list.xlsx", people_list.spreadsheet, name="people-spreadsheet"),
    path("clubs/<slug:slug>/people/doubles/", people.doubles, name="people-doubles"),
    path("clubs/<slug:slug>/people/<int:angler_id>/", people.person, name="person"),
    path("clubs/<slug:slug>/people/<int:angler_id>/same/", people.merging, name="person-merge"),
    path(
        "clubs/<slug:slug>/people/<int:angler_id>/sign-in/",
        people.sign_in_of,
        name="person-sign-in",
    ),
    path("clubs/<slug:slug>/people/<int:angler_id>/erase/", people.erasing, name="person-erase"),
    path(
        "clubs/<slug:slug>/people/<int:angler_id>/data.json", people.person_data, name="person-data"
    ),
]

# /matches/<match_id>/run/
run_urls: list[URLPattern | URLResolver] = [
    path("line-ups/", captains.line_ups, name="line-ups"),
    path("line-ups/<int:team_id>/", captains.by_secretary, name="line-up-by-secretary"),
    path("line-ups/<int:team_id>/link/", captains.make, name="captain-link"),
    path(
        "line-ups/links/<int:link_id>/take-back/",
        captains.take_back,
        name="captain-link-take-back",
    ),
    path("letters/", letters.letters, name="letters"),
    path("waiting/", booking.waiting_list, name="waiting-list"),
    path("waiting/<int:reserve_id>/off/", booking.off_the_list, name="waiting-off"),
    path("morning/", booking.morning, name="morning"),
    path("morning/<int:entry_id>/", booking.rang, name="rang"),
    path("objections/", objections.objections, name="objections"),
    path("objections/hours/", objections.hours, name="objection-hours"),
    path("objections/<int:objection_id>/answer/", objections.answered, name="objection-answer"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    *people_urls,
    path("matches/<int:match_id>/run/", include(run_urls)),
    path("matches/<int:match_id>/booking/", booking.booking, name="booking"),
    path("matches/<int:match_id>/line-up/", captains.own_line_up, name="own-line-up"),
    path("line-up/<str:token>/", captains.line_up, name="line-up"),
    path("account/data.json", people.own_data, name="own-data"),
]
