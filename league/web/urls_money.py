"""The money of a match and the account of a season."""

from django.urls import URLPattern, URLResolver, path

from league.web.views import money, payouts, season_money

urlpatterns: list[URLPattern | URLResolver] = [
    path("matches/<int:match_id>/money/", money.money, name="money"),
    path("matches/<int:match_id>/money/pools/", money.pools, name="money-pools"),
    path("matches/<int:match_id>/money/take/<int:entry_id>/", money.take_one, name="money-take"),
    path("matches/<int:match_id>/money/owe/<int:entry_id>/", money.owe_one, name="money-owe"),
    path(
        "matches/<int:match_id>/money/set-aside/<int:payment_id>/", money.aside, name="money-aside"
    ),
    path("matches/<int:match_id>/money/count/", money.count, name="money-count"),
    path("matches/<int:match_id>/money/payouts/", payouts.payouts, name="payouts"),
    path("matches/<int:match_id>/money/payouts/fix/", payouts.fix, name="payouts-fix"),
    path("matches/<int:match_id>/money/payouts/hand/", payouts.hand, name="payouts-hand"),
    path("matches/<int:match_id>/money/payouts.pdf", payouts.sheet, name="payouts-pdf"),
    path("tables/<int:season_id>/money/", season_money.season_money, name="season-money"),
    path("tables/<int:season_id>/money/pools/", money.season_pools, name="season-pools"),
    path(
        "tables/<int:season_id>/money/account.csv", season_money.account_csv, name="season-account"
    ),
]
