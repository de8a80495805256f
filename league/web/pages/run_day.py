"""The order of the day on the secretary's screen: done, next, missing, and who did it when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time

from django.contrib.auth.models import User
from django.urls import reverse
from django.utils import timezone

from league.models import DrawRecord, Entry, Match, MatchPeg, Phone, Result, Team
from league.operations.money_account import Account, account_of
from league.operations.payouts import preview
from league.operations.score import book_of
from league.rules.figures import capital, counted
from league.rules.missing import (
    line_ups_missing,
    phones_missing,
    sections_missing,
    stakes_missing,
    weights_missing,
)
from league.rules.pools_next import MoneyNext, MoneyTask
from league.rules.pools_pence import shortly
from league.rules.stages import Day, Moment, State, Step, order_of_the_day
from league.web.money_tasks import money_next, where
from league.web.sentences import moment
from league.web.walk import Stop


@dataclass(frozen=True, slots=True)
class RunLine:
    """One line of the day: the step, where it stands, what it lacks, who did it."""

    step: str
    at: time | None
    state: State
    when: str = ""  # "Next, in 48 minutes."
    said: str = ""
    missing: tuple[str, ...] = ()
    who: str = ""  # "secretary, 24 Jan 18:07"
    link: str = ""
    link_words: str = ""


@dataclass(frozen=True, slots=True)
class Running:
    """What the screen knows already when it asks for the lines."""

    match: Match
    day: Day
    booked: Sequence[Entry]
    used: Sequence[MatchPeg]
    walk: Sequence[Stop]
    results: Sequence[Result]
    account: Account
    money: MoneyNext


def running(
    match: Match,
    day: Day,
    *,
    booked: Sequence[Entry],
    used: Sequence[MatchPeg],
    walk: Sequence[Stop],
    results: Sequence[Result],
) -> Running:
    """The day with its money beside it."""
    account = account_of(match)
    looked = preview(account) if account.plan.asks and results else None
    return Running(match, day, booked, used, walk, results, account, money_next(account, looked))


def run_lines(run: Running) -> list[RunLine]:
    """Every step in its order; the money stands where money changes hands."""
    lines: list[RunLine] = []
    for at in order_of_the_day(run.day):
        lines.append(_LINES[at.step](run, at))
        if run.account.plan.asks and at.step is Step.BOOK_IN:
            lines.append(_stakes(run))
        if run.account.plan.asks and at.step is Step.RESULT:
            lines.append(_payouts(run))
    return lines


def _book_in(run: Running, at: Moment) -> RunLine:
    said = f"{len(run.booked)} booked in." if run.booked else "Nobody is booked in yet."
    lacks: tuple[str, ...] = ()
    if not run.day.drawn and run.match.season_id:
        teams = {team.name: 0 for team in Team.objects.of(run.match.season)}
        for entry in run.booked:
            if entry.team:
                teams[entry.team.name] = teams.get(entry.team.name, 0) + 1
        lacks = line_ups_missing(teams, book_of(run.match).team.size) if teams else ()
    return _line(at, said, lacks, link="#book-in", words="Line-up")


def _stakes(run: Running) -> RunLine:
    account = run.account
    paid = [each for each in account.payments if each.kind == "paid"]
    state = State.DONE if paid and not account.outstanding else State.TO_COME
    last = paid[-1] if paid else None
    return RunLine(
        "Stakes",
        None,
        state,
        said=f"{shortly(account.taken)} is in." if account.taken else "None taken yet.",
        missing=stakes_missing(len(account.outstanding), account.owed),
        who=_by(last.by, last.at) if last else "",
        link=reverse("money", args=[run.match.pk]),
        link_words="Take the money" if account.outstanding else "The money",
    )


def _draw(run: Running, at: Moment) -> RunLine:
    open_pegs = [each for each in run.used if not each.closed_why]
    letters = list(dict.fromkeys(each.section.letter for each in run.used))
    if not run.used:
        return _line(at, "", ("The pegs and sections are not chosen yet.",), link="#pegs",
                     words="Choose them")  # fmt: skip
    said = capital(f"{counted(len(open_pegs), 'peg')} in {counted(len(letters), 'section')}.")
    if not run.day.drawn:
        without = sum(bool(each.team_id) and not each.section_id for each in run.booked)
        return _line(at, said, sections_missing(without), link="#pegs", words="Pegs and sections")
    record = DrawRecord.objects.with_events(run.match)
    events = [each for each in record.events.all() if each.finished_at] if record else []
    who = _by(events[0].begun_by, events[0].finished_at) if events else ""
    link = reverse("draw", args=[run.match.pk])
    return _line(at, capital(f"{counted(len(run.walk), 'peg')} drawn."), who=who, link=link,
                 words="As it came out")  # fmt: skip


def _whistle(run: Running, at: Moment) -> RunLine:
    return _line(at, "" if at.at else "No time is set.")


def _scales(run: Running, at: Moment) -> RunLine:
    if not run.walk:
        return _line(at, "After the draw.")
    weighed = sum(stop.weighed for stop in run.walk)
    lacks = weights_missing(run.day.to_weigh, run.day.in_question) if weighed else ()
    holding = Phone.objects.still_holding(run.match)
    lacks += phones_missing({phone.name: phone.waiting for phone in holding})
    said = f"{weighed} of {len(run.walk)} peg{'' if len(run.walk) == 1 else 's'} weighed."
    return _line(at, said, lacks, who=_weighed_by(run), link="#scales", words="Scales")


def _weighed_by(run: Running) -> str:
    """Everybody whose figures stand, and when the last came."""
    figures = [stop.standing.weigh_in for stop in run.walk if stop.standing.weigh_in]
    told = [each for each in figures if each.device or each.weighed_by_id]
    names = list(dict.fromkeys(each.by for each in told))
    if not figures or not names:
        return ""
    last = max(each.received_at for each in figures)
    return f"{', '.join(names)}, {_at(last)}"


def _result(run: Running, at: Moment) -> RunLine:
    if not run.results:
        return _line(at, "Not published yet.")
    newest = run.results[0]
    lacks = ("Something has changed since it was published.",) if run.day.changed else ()
    return _line(at, f"Version {newest.version}: {newest.headline}.", lacks,
                 who=_by(newest.published_by, newest.published_at), link="#result",
                 words="Result")  # fmt: skip


def _payouts(run: Running) -> RunLine:
    account, thing = run.account, run.money
    done = thing.task is MoneyTask.NOTHING
    said = ""
    who = ""
    if account.sheet:
        said = f"Fixed from version {account.sheet.result.version}."
        who = _by(account.sheet.by, account.sheet.at)
    elif not run.results:
        said = "With the result."
    if done and account.count:
        said, who = "The tin is counted and closed.", _by(account.count.by, account.count.at)
    waits = {MoneyTask.FIX, MoneyTask.HAND, MoneyTask.CLOSE}
    return RunLine(
        "Payouts",
        None,
        State.DONE if done else State.TO_COME,
        said=said,
        missing=(f"{thing.headline}.",) if thing.task in waits and run.results else (),
        who=who,
        link=where(thing, run.match) if thing.task in waits and run.results
        else reverse("payouts", args=[run.match.pk]),
        link_words=thing.button if thing.task in waits and run.results else "Payouts",
    )  # fmt: skip


def _final(run: Running, at: Moment) -> RunLine:
    if run.day.final and run.results:
        newest = run.results[0]
        who = _by(newest.final_by, newest.final_at) if newest.final_at else ""
        return _line(at, "The result is final.", who=who)
    until = run.day.objections_until
    if until is None:
        return _line(at, "When objections have been heard.")
    to_answer = run.day.to_answer
    lacks = (f"{counted(to_answer, 'objection')} to answer.",) if to_answer else ()
    said = "are heard until" if run.day.objections_open else "closed on"
    return _line(at, f"Objections {said} {moment(until)}.", lacks)


def _line(
    at: Moment,
    said: str,
    missing: tuple[str, ...] = (),
    *,
    who: str = "",
    link: str = "",
    words: str = "",
) -> RunLine:
    return RunLine(at.step.value, at.at, at.state, at.when, said, missing, who, link, words)


def _by(user: User | None, at: datetime | None) -> str:
    if at is None:
        return ""
    return ", ".join(part for part in (str(user or ""), _at(at)) if part)


def _at(at: datetime) -> str:
    there = timezone.localtime(at)
    return f"{there.day} {there:%b %H:%M}"


_LINES = {
    Step.BOOK_IN: _book_in,
    Step.DRAW: _draw,
    Step.ALL_IN: _whistle,
    Step.ALL_OUT: _whistle,
    Step.SCALES: _scales,
    Step.RESULT: _result,
    Step.FINAL: _final,
}
