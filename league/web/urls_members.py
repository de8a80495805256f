"""The secretary's anglers, line-ups and booking, letters, objections."""

from django.urls import URLPattern, URLResolver, path

from league.web.views import people, people_list

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
    path("clubs/<slug:slug>/people/<int:angler_id>/erase/", people.erasing, name="person-erase"),
    path(
        "clubs/<slug:slug>/people/<int:angler_id>/data.json", people.person_data, name="person-data"
    ),
]

urlpatterns: list[URLPattern | URLResolver] = [
    *people_urls,
    path("account/data.json", people.own_data, name="own-data"),
]
