"""The treasurer's pages: one press a payer, pools typed, the tin counted, who may see any of it."""

from __future__ import annotations

import csv
import io

import pandas
import pytest
from django.test import Client
from tablib import Dataset

from league.models import Act, Match, OfficeName, Payment, Pools, TinCount
from league.operations.money import announce_for_season, set_payment_aside, take
from league.operations.money_account import account_of, plan_of
from league.operations.payouts import fix_payouts, hand_over
from league.operations.publish import publish
from league.rules.pools_plan import FEATS, Fee, GoldenPeg, OptionalPool, Plan, Split
from tests.builders import give_office, make_entry, make_fished_match, make_match, make_season
from tests.factories import AnglerFactory, UserFactory
from tests.money_scene import PLAN, WEIGHTS, correct, key, match_with_pools, on_peg, pay


def at(match: Match, page: str = "") -> str:
    return f"/matches/{match.pk}/money/{page}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


@pytest.fixture
def treasurer(club):
    user = UserFactory(username="clive")
    give_office(club, user, OfficeName.TREASURER)
    return user


@pytest.fixture
def tin(treasurer) -> Client:
    """The treasurer's browser."""
    browser = Client()
    browser.force_login(treasurer)
    return browser


@pytest.fixture
def match(club, treasurer) -> Match:
    return match_with_pools(club, by=treasurer)


@pytest.fixture
def paid_out(match, treasurer) -> Match:
    """Everybody has paid, the result is published, the payouts are fixed."""
    pay(match, by=treasurer)
    publish(match, by=treasurer)
    fix_payouts(match, by=treasurer)
    return match


TYPED = {
    "stake": "10", "fees": "Peg fees 2.00", "frame": "5", "frame_split": "60/40", "section": "3.00",
    "section_split": "", "frame_rule": "by default", "left_rule": "kept", "team": "",
    "team_split": "", "optional": "", "golden_of_stake": "", "golden_stake": "", "golden_peg": "",
    "golden_feat": "match", "golden_carried": "", "unit": "1", "fish_only": "on",
    "fund": "Club fund", "brought": "",
}  # fmt: skip


def test_without_pools_the_page_says_so_and_leads_to_announcing_them(club, tin) -> None:
    match = make_fished_match(club)

    page = said(tin.get(at(match)))

    assert "No pools are announced for " in page
    assert f'class="next" href="{at(match, "pools/")}"' in page


def test_pools_are_typed_in_pounds_and_kept_in_pence(club, tin) -> None:
    match = make_fished_match(club)

    answer = tin.post(at(match, "pools/"), TYPED)

    assert answer.status_code == 302
    assert plan_of(match) == PLAN


def test_every_kind_of_pool_can_be_typed_and_comes_back_as_it_was(club, tin, treasurer) -> None:
    match = make_fished_match(club)
    typed = TYPED | {
        "stake": "11", "team": "1", "team_split": "2/1",
        "optional": "Super pool 2.00 60/40\nSilvers 1", "golden_stake": "1", "golden_peg": "14",
        "golden_feat": "section", "golden_carried": "112", "unit": "50", "brought": "20",
        "juniors": "on", "frame_split": "60/40; from 12: 40/30/20/10",
    }  # fmt: skip

    tin.post(at(match, "pools/"), typed)

    assert plan_of(match) == Plan(
        stake=1100, fees=(Fee("Peg fees", 200),), frame=500,
        frame_split=Split.parse("60/40; from 12: 40/30/20/10"), section=300, team=100,
        team_split=Split.parse("2/1"), unit=50, juniors=True, brought=2000,
        optional=(OptionalPool("Super pool", 200, Split.parse("60/40")),
                  OptionalPool("Silvers", 100)),
        golden=GoldenPeg(peg="14", stake=100, carried=11_200, feat=FEATS["section"]),
    )  # fmt: skip
    page = said(tin.get(at(match, "pools/")))
    for shown in ("Super pool 2.00 60/40 Silvers 1.00", 'value="112.00"', 'value="2/1"'):
        assert shown in page


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"stake": "9"}, "come to £10.00, and the stake is £9.00"),
        ({"stake": "ten"}, "Write a sum as 10 or 12.50"),
        ({"frame_split": "30/60"}, "the first share is the largest"),
        ({"fees": "6.00"}, "Write what it is and the sum"),
        ({"optional": "Super pool"}, "as Super pool 2.00 60/40"),
        ({"fund": ""}, "Name the fund"),
    ],
)
def test_pools_that_cannot_be_are_refused_in_words_and_come_back_as_typed(
    club, tin, wrong, words
) -> None:
    match = make_fished_match(club)

    answer = tin.post(at(match, "pools/"), TYPED | wrong)

    page = answer.content.decode()
    assert answer.status_code == 200
    assert words in page.replace("&#x27;", "'")
    assert next(iter(wrong.values())) in page
    assert "Peg fees 2.00" in page or "fees" in wrong
    assert not Pools.objects.exists()


def test_one_press_takes_a_stake_and_the_angler_moves_to_the_paid(match, tin, treasurer) -> None:
    entry = on_peg(match, 1)
    assert f'Paid £10<span class="vh">: {entry.angler}</span>' in said(tin.get(at(match)))

    answer = tin.post(at(match, f"take/{entry.pk}/"))

    assert answer["Location"] == f"{at(match)}#to-pay"
    payment = Payment.objects.get()
    assert (payment.entry, payment.pence, payment.by) == (entry, 1000, treasurer)
    page = said(tin.get(at(match)))
    assert "5 of 6 still to pay" in page
    assert f'Paid £10<span class="vh">: {entry.angler}</span>' not in page
    assert f"{entry.angler}: £10 paid." in page


def test_pressing_twice_says_so_and_takes_nothing(match, tin) -> None:
    entry = on_peg(match, 1)
    tin.post(at(match, f"take/{entry.pk}/"))

    page = said(tin.post(at(match, f"take/{entry.pk}/"), follow=True))

    assert f"{entry.angler} has paid already; nothing was taken twice." in page
    assert account_of(match).taken == 1000


def test_who_owes_stays_on_the_list_with_by_whom(match, tin) -> None:
    entry = on_peg(match, 2)

    tin.post(at(match, f"owe/{entry.pk}/"))

    page = said(tin.get(at(match)))
    assert "owes, as clive put down" in page
    assert f'Owes<span class="vh">: {entry.angler}' not in page
    assert f'Paid £10<span class="vh">: {entry.angler}' in page


def test_a_payment_is_set_aside_with_why_or_not_at_all(match, tin, treasurer) -> None:
    payment = take(on_peg(match, 3), by=treasurer)

    without = said(tin.post(at(match, f"set-aside/{payment.pk}/"), {"why": ""}))
    tin.post(at(match, f"set-aside/{payment.pk}/"), {"why": "The wrong one."})

    assert "Say why: it stands in the account." in without
    assert account_of(match).taken == 0
    assert Act.objects.filter(what__contains="The wrong one.").exists()


def test_a_junior_is_asked_for_the_fees_alone(match, tin) -> None:
    junior = make_entry(match, angler=AnglerFactory(club=match.club, name="Tom Kell", junior=True))

    page = said(tin.get(at(match)))

    assert 'Paid £2<span class="vh">: Tom K. (junior)</span>' in page
    tin.post(at(match, f"take/{junior.pk}/"))
    assert Payment.objects.get().pence == 200


def test_an_optional_pool_is_a_press_of_its_own(club, tin, treasurer) -> None:
    plan = Plan(stake=500, frame=500, optional=(OptionalPool("Super pool", 200),))
    match = match_with_pools(club, by=treasurer, plan=plan)
    entry = on_peg(match, 1)
    tin.post(at(match, f"take/{entry.pk}/"))
    assert f'Super pool £2<span class="vh">: {entry.angler}' in said(tin.get(at(match)))

    tin.post(at(match, f"take/{entry.pk}/"), {"what": "Super pool"})

    assert account_of(match).taken == 700


def test_the_page_defers_to_the_law_and_keeps_juniors_out_in_words(match, tin) -> None:
    page = said(tin.get(at(match)))

    assert "it is the club&#x27;s to check beforehand" in page
    assert "Juniors are in no pool" in page


def test_before_a_result_there_are_no_payouts(match, tin) -> None:
    page = said(tin.get(at(match, "payouts/")))

    assert "The payouts come with the result" in page
    assert "Fix the payouts" not in page


def test_payouts_are_looked_over_fixed_and_handed_over(match, tin, treasurer) -> None:
    pay(match, by=treasurer)
    publish(match, by=treasurer)
    before = said(tin.get(at(match, "payouts/")))
    assert "£39.00 to anglers, if it stays so" in before
    assert "First. 60 of 100 shares of £30, £18." in before

    tin.post(at(match, "payouts/fix/"))
    fixed = said(tin.get(at(match, "payouts/")))
    first = on_peg(match, 1)
    assert f'Hand over £18<span class="vh">: {first.angler}' in fixed
    tin.post(at(match, "payouts/hand/"), {"key": key(match, 1), "pence": "1800"})

    assert account_of(match).tin == 4200
    assert "Paid out" in said(tin.get(at(match, "payouts/")))


@pytest.mark.parametrize("pence", ["", "1", "abc", "99999999999", "-1800"])
def test_a_sum_that_is_not_due_is_not_handed_over(paid_out, tin, pence) -> None:
    form = {"key": key(paid_out, 1), "pence": pence}

    page = said(tin.post(at(paid_out, "payouts/hand/"), form, follow=True))

    assert "Nothing was handed over; look again." in page
    assert account_of(paid_out).tin == 6000


def test_a_correction_shows_what_moves_beside_what_was_handed_out(paid_out, tin, treasurer) -> None:
    hand_over(paid_out, key(paid_out, 2), 1200, by=treasurer)
    correct(paid_out, 2, "2-4", by=treasurer)
    publish(paid_out, by=treasurer, correcting=1, why="Misread.")
    two = on_peg(paid_out, 2).angler

    page = said(tin.get(at(paid_out, "payouts/")))

    assert "Version 2 moves money" in page
    assert f"{two}: £12 becomes £9. £12 was handed over, so £3 has to come back." in page
    assert "Version 2 of the result moves money" in said(tin.get(at(paid_out)))
    tin.post(at(paid_out, "payouts/fix/"), {"correcting": "1"})
    assert f'£3 came back<span class="vh">: {two}' in said(tin.get(at(paid_out, "payouts/")))


def test_a_tin_that_differs_is_refused_and_the_count_comes_back(paid_out, tin) -> None:
    page = said(tin.post(at(paid_out, "count/"), {"counted": "59.50", "why": ""}))

    assert "The tin was counted at £59.50, and the lines come to £60.00" in page
    assert "£0.50 short" in page
    assert 'value="59.50"' in page
    assert not TinCount.objects.exists()


def test_a_tin_that_agrees_closes_the_money(paid_out, tin) -> None:
    tin.post(at(paid_out, "count/"), {"counted": "60"})

    assert account_of(paid_out).closed


def test_a_count_that_is_none_is_asked_for(paid_out, tin) -> None:
    assert "Count the tin and write what is in it" in said(
        tin.post(at(paid_out, "count/"), {"counted": ""})
    )


def test_the_sheet_is_for_payouts_that_are_fixed(match, tin, treasurer) -> None:
    assert tin.get(at(match, "payouts.pdf")).status_code == 404
    pay(match, by=treasurer)
    publish(match, by=treasurer)
    fix_payouts(match, by=treasurer)

    answer = tin.get(at(match, "payouts.pdf"))

    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert answer.content == tin.get(at(match, "payouts.pdf")).content


@pytest.fixture
def season(club, treasurer):
    """Two rounds: the first paid out and closed, an angler's name a formula; one still to come."""
    season = make_season(club)
    announce_for_season(season, PLAN, by=treasurer)
    first = make_fished_match(season=season, weights=WEIGHTS)
    entry = on_peg(first, 1)
    entry.angler.name = '=HYPERLINK("x";"Ana, ""A"" Ferradas")'
    entry.angler.save(update_fields=["name"])
    pay(first, by=treasurer)
    set_payment_aside(account_of(first).dues[2].payment, "Wrong one.", by=treasurer)
    take(on_peg(first, 3), by=treasurer)
    publish(first, by=treasurer)
    fix_payouts(first, by=treasurer)
    hand_over(first, key(first, 2), 1200, by=treasurer)
    make_match(season=season)
    return season


def test_the_seasons_account_has_each_rounds_sums(season, tin) -> None:
    page = said(tin.get(f"/tables/{season.pk}/money/"))

    assert "£48.00 in hand" in page
    assert "£60.00 paid in and £12.00 handed over, over 1 round." in page


def test_the_account_reads_the_same_in_python_and_in_a_spreadsheet(season, tin) -> None:
    raw = tin.get(f"/tables/{season.pk}/money/account.csv").content

    rows = list(csv.DictReader(io.StringIO(raw.decode("utf-8-sig"), newline="")))
    other = Dataset().load(raw.decode("utf-8-sig"), format="csv").dict

    assert [dict(row) for row in other] == rows
    assert sum(float(row["In"] or 0) for row in rows) == 60
    assert sum(float(row["Out"] or 0) for row in rows) == 12
    assert rows[0]["Who or why"] == '\'=HYPERLINK("x";"Ana, ""A"" Ferradas")'
    assert not any(cell.startswith(("=", "+", "@", "-")) for row in rows for cell in row.values())


def test_the_account_reads_the_same_in_pandas(season, tin) -> None:
    raw = tin.get(f"/tables/{season.pk}/money/account.csv").content

    frame = pandas.read_csv(io.BytesIO(raw))

    assert (frame["In"].sum(), frame["Out"].sum(), len(frame)) == (60.0, 12.0, 7)


def test_the_seasons_account_asks_as_often_for_many_rounds_as_for_few(
    club, tin, treasurer, django_assert_num_queries
) -> None:
    def fished(rounds):
        season = make_season(club)
        announce_for_season(season, PLAN, by=treasurer)
        for _ in range(rounds):
            match = make_fished_match(season=season, weights=WEIGHTS)
            pay(match, by=treasurer)
            publish(match, by=treasurer)
            fix_payouts(match, by=treasurer)
        return season

    few, many = fished(1), fished(4)
    tin.get(f"/tables/{few.pk}/money/")
    with django_assert_num_queries(11):
        tin.get(f"/tables/{few.pk}/money/")
    with django_assert_num_queries(11):
        tin.get(f"/tables/{many.pk}/money/")


def test_the_money_of_thirty_asks_as_often_as_that_of_three(
    club, tin, treasurer, django_assert_num_queries
) -> None:
    few = match_with_pools(club, by=treasurer)
    many = match_with_pools(club, by=treasurer)
    for _ in range(24):
        take(make_entry(many), by=treasurer)
    pay(few, by=treasurer)
    pay(many, by=treasurer)
    tin.get(at(few))

    with django_assert_num_queries(11):
        tin.get(at(few))
    with django_assert_num_queries(11):
        tin.get(at(many))


@pytest.mark.parametrize(
    ("office", "opens"),
    [("treasurer", True), ("secretary", True), ("scales", False), ("member", False), (None, False)],
)
def test_the_money_is_for_the_treasurer_and_the_secretary(paid_out, season, office, opens) -> None:
    browser = Client()
    if office:
        user = UserFactory()
        give_office(paid_out.club, user, office)
        browser.force_login(user)
    payment = Payment.objects.in_force(paid_out).first()
    entry = on_peg(paid_out, 1)
    pages = [
        at(paid_out, page)
        for page in ("", "pools/", f"set-aside/{payment.pk}/", "count/", "payouts/", "payouts.pdf")
    ]
    pages += [f"/tables/{season.pk}/money/{page}" for page in ("", "pools/", "account.csv")]
    acts = [at(paid_out, f"{act}/{entry.pk}/") for act in ("take", "owe")]
    acts += [at(paid_out, f"payouts/{act}/") for act in ("fix", "hand")]

    read = {browser.get(page).status_code for page in pages}
    acted = {browser.post(act).status_code for act in acts}

    assert (read, acted) == (({200}, {302}) if opens else ({404}, {404}) if office else
                             ({302}, {302}))  # fmt: skip
    if not office:
        assert all("/sign-in/" in browser.get(page)["Location"] for page in pages)
    assert account_of(paid_out).tin == 6000


def test_another_clubs_treasurer_has_no_business_here(paid_out) -> None:
    other = UserFactory()
    give_office(make_fished_match().club, other, OfficeName.TREASURER)
    browser = Client()
    browser.force_login(other)

    assert browser.get(at(paid_out)).status_code == 404
    assert browser.post(at(paid_out, f"take/{on_peg(paid_out, 1).pk}/")).status_code == 404


def test_the_treasurers_desk_leads_to_the_money_and_no_further(match, tin) -> None:
    page = said(tin.get("/desk/"))

    assert "Treasurer’s desk" in page
    assert f'<a class="next" href="{at(match)}">The money of ' in page
    assert f"/matches/{match.pk}/run/" not in page


def test_the_secretarys_desk_runs_the_match_first_and_has_its_pools_beside(
    match, secretary
) -> None:
    page = said(secretary.get("/desk/"))

    assert "Match secretary’s desk" in page
    assert f'<a class="do" href="/matches/{match.pk}/run/">' in page
    assert f'class="next" href="{at(match)}' not in page
    assert f'<a class="do" href="{at(match)}">All the money</a>' in page
