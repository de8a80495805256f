"""Every page, one line each, grouped by prefix."""

from django.urls import URLPattern, URLResolver, include, path

from league.web.views import (
    angler,
    board,
    changes,
    check,
    desk,
    digest,
    draw,
    home,
    honours,
    match,
    paper,
    passes,
    phone,
    publish,
    result,
    run,
    scales,
    sections,
    sync,
    table,
    typed,
    versions,
    weights,
    what_if,
)

# /matches/<match_id>/
match_urls: list[URLPattern | URLResolver] = [
    path("", match.match, name="match"),
    path("draw/", draw.draw, name="draw"),
    path("draw/freeze/", draw.freeze_sheet, name="draw-freeze"),
    path("draw/open/", draw.open_sheet, name="draw-open"),
    path("draw/calls/", draw.take_calls, name="draw-calls"),
    path("draw/turn/", draw.turn_card, name="draw-turn"),
    path("draw/give-up/", draw.give_up, name="draw-give-up"),
    path("draw/by-hand/", changes.by_hand, name="draw-by-hand"),
    path("draw/changes/", changes.changes, name="draw-changes"),
    path("draw/changes/unsafe/", changes.unsafe, name="draw-unsafe"),
    path("draw/changes/again/", changes.again, name="draw-again"),
    path("draw/changes/late/<int:entry_id>/", changes.late, name="draw-late"),
    path("draw/changes/give/<int:entry_id>/", changes.give, name="draw-give"),
    path("draw/changes/members/<int:team_id>/", changes.members, name="draw-members"),
    path("draw-sheet.pdf", paper.draw_sheet, name="draw-sheet"),
    path("weigh-sheet.pdf", paper.weigh_sheet, name="weigh-sheet"),
    path("peg-tickets.pdf", paper.tickets, name="peg-tickets"),
    path("captains-cards.pdf", paper.captains, name="captains-cards"),
    path("peg-plan.pdf", paper.plan, name="peg-plan"),
    path("team-cards.pdf", paper.teams, name="team-cards"),
    path("draw/check/", check.check, name="draw-check"),
    path("draw/record.json", check.record, name="draw-record"),
    path("board/", board.board, name="board"),
    path("board/now/", board.now, name="board-now"),
]

# /clubs/<slug>/, and without a club where there is only one
club_urls: list[URLPattern | URLResolver] = [
    path("", home.club, name="club"),
    path("next/", home.next_match, name="next-match"),
    path("results/", result.results, name="results"),
    path("results/by-email/", digest.by_email, name="results-by-email"),
    path("leagues/", table.seasons, name="leagues"),
    path("anglers/", angler.anglers, name="anglers"),
]

# /matches/<match_id>/result/
result_urls: list[URLPattern | URLResolver] = [
    path("", result.result, name="result"),
    path("versions/", versions.versions, name="result-versions"),
    path("<int:version>/", result.result, name="result-version"),
    path("<int:version>/moved/", versions.moved, name="result-moved"),
    path("<int:version>/sheet.pdf", result.sheet, name="result-pdf"),
    path("<int:version>/result.csv", result.as_csv, name="result-csv"),
    path("<int:version>/result.json", result.as_json, name="result-json"),
]

# /tables/<season_id>/
table_urls: list[URLPattern | URLResolver] = [
    path("", table.table, name="table"),
    path("anglers/", table.table, {"of_anglers": True}, name="table-anglers"),
    path("anglers/<int:number>/", table.table, {"of_anglers": True}, name="table-anglers-page"),
    path("honours/", honours.honours, name="honours"),
    path("rules/", table.rules, name="rules"),
    path("what-if/", what_if.what_if, name="what-if"),
    path("what-if/table.csv", what_if.what_if_file, {"ending": "csv"}, name="what-if-csv"),
    path("what-if/table.json", what_if.what_if_file, {"ending": "json"}, name="what-if-json"),
    path("sheet.pdf", table.sheet, name="table-pdf"),
    path("season-book.pdf", paper.season_book, name="season-book"),
    path("table.csv", table.as_csv, name="table-csv"),
    path("table.json", table.as_json, name="table-json"),
]

# /matches/<match_id>/run/
run_urls: list[URLPattern | URLResolver] = [
    path("", run.run, name="match-run"),
    path("book-in/", run.enter, name="run-book-in"),
    path("withdraw/<int:entry_id>/", run.take_out, name="run-withdraw"),
    path("journal/", run.journal, name="run-journal"),
    path("sections/", run.sections, name="run-sections"),
    path("sections/by-hand/", sections.by_hand, name="run-sections-by-hand"),
    path("places/", run.places, name="run-places"),
    path("settle/<int:entry_id>/", weights.settle_two, name="run-settle"),
    path("correct/<int:entry_id>/", weights.correct, name="run-correct"),
    path("decide/", publish.decision, name="run-decide"),
    path("lift/<int:decision_id>/", publish.lift_decision, name="run-lift"),
    path("publish/", publish.look_over, name="run-publish"),
    path("final/", publish.final, name="run-final"),
]

# /scales/<match_id>/
scales_urls: list[URLPattern | URLResolver] = [
    path("", scales.walk, name="scales"),
    path("<int:entry_id>/", scales.weigh, name="scales-weigh"),
    path("<int:entry_id>/stand/", scales.stand, name="scales-stand"),
    path("enter/", sync.enter, name="scales-enter"),
    path("enter/signed-in/", sync.enter_signed_in, name="scales-enter-signed-in"),
    path("send/", sync.send, name="scales-send"),
    path("walk.json", sync.walk, name="scales-walk-data"),
    path("past.json", sync.past, name="scales-past"),
    path("phone/", phone.phone, name="scales-phone"),
    path("passes/", passes.passes, name="scales-passes"),
    path("passes/<int:pass_id>/take-back/", passes.take_back, name="scales-pass-take-back"),
    path("phones/<int:phone_id>/stop/", passes.stop_phone, name="scales-phone-stop"),
    path("board/", passes.board_on_or_off, name="board-show"),
    path("typed/<str:letter>/", typed.typed, name="scales-typed"),
    path("scales.webmanifest", phone.manifest, name="scales-manifest"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.home, name="home"),
    path("", include("league.web.urls_programs")),
    path("", include("league.web.urls_people")),
    path("", include("league.web.urls_money")),
    path("api/1/", include("league.web.urls_api")),
    path("clubs/<slug:slug>/", include(club_urls)),
    path("next/", home.next_match, name="next-match"),
    path("results/", result.results, name="results"),
    path("leagues/", table.seasons, name="leagues"),
    path("anglers/", angler.anglers, name="anglers"),
    path("anglers/<int:angler_id>/", angler.angler, name="angler"),
    path("matches/<int:match_id>/", include(match_urls)),
    path("matches/<int:match_id>/run/", include(run_urls)),
    path("scales/worker.js", phone.worker, name="scales-worker"),
    path("scales/<int:match_id>/", include(scales_urls)),
    path("matches/<int:match_id>/result/", include(result_urls)),
    path("tables/<int:season_id>/", include(table_urls)),
    path("draw-recipe/", check.recipe, name="draw-recipe"),
    path("desk/", desk.desk, name="desk"),
    path("desk/<slug:slug>/", desk.desk, name="desk"),
    path("desk/<slug:slug>/", include("league.web.urls_desk")),
    path("", include("league.web.urls_start")),
    path("", include("league.web.urls_doors")),
    path("", include("league.web.urls_members")),
]
