"""The doors: signing in, one's own account, and the club's offices."""

from django.urls import URLPattern, URLResolver, path

from league.web.views import account, health, offices

# /clubs/<slug>/offices/
office_urls: list[URLPattern | URLResolver] = [
    path("clubs/<slug:slug>/offices/", offices.offices, name="offices"),
    path("clubs/<slug:slug>/offices/ask-in/", offices.ask_in, name="ask-in"),
    path("clubs/<slug:slug>/offices/<int:office_id>/take/", offices.take, name="office-take"),
    path(
        "clubs/<slug:slug>/offices/invitations/<int:invitation_id>/take-back/",
        offices.take_back,
        name="invitation-take-back",
    ),
    path(
        "clubs/<slug:slug>/offices/people/<int:user_id>/sign-out/",
        offices.sign_out_person,
        name="sign-out-person",
    ),
    path("clubs/<slug:slug>/journal/", offices.journal, name="journal"),
    path("clubs/<slug:slug>/what-is-kept/", health.kept, name="kept"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    path("sign-in/", account.sign_in, name="sign-in"),
    path("sign-out/", account.sign_out, name="sign-out"),
    path("forgotten/", account.forgotten, name="forgotten"),
    path("forgotten/sent/", account.forgotten_sent, name="forgotten-sent"),
    path("forgotten/<uidb64>/<token>/", account.forgotten_new, name="forgotten-new"),
    path("invited/<str:secret>/", account.invited, name="invited"),
    path("account/", account.account, name="account"),
    path("account/password/", account.change_password, name="account-password"),
    path("account/sign-out-everywhere/", account.everywhere, name="sign-out-everywhere"),
    path("health/", health.health, name="health"),
    path("health.json", health.as_json, name="health-json"),
    *office_urls,
]
