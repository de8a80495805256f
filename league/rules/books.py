"""Ready-made rule books, named for what they do. A club starts from one and changes it."""

from __future__ import annotations

from league.rules.ladders import SEASON_RUNGS, TEAM_RUNGS
from league.rules.nets import NetRules
from league.rules.placings import BETTER
from league.rules.rulebook import (
    BY_PLACES,
    BY_WEIGHT,
    Rulebook,
    SeasonRules,
    SectionRules,
    TeamRules,
)
from league.rules.scale import (
    CAP_SMALLEST,
    HIGH,
    TOP_SECTION,
    TOP_TEAMS,
    top_at_least,
)
from league.rules.statuses import (
    AVERAGE_OF_THE_REST,
    HALF_SUM,
    LAST_PLACE,
    blank_plus,
    fixed,
    size_plus,
    with_fish_plus,
)
from league.rules.weights import DRAMS_IN_POUND

NOTHING = fixed(0)

AVERAGED_LOW = Rulebook(name="Averaged low points")

TWO_ROUND_PLACES = Rulebook(
    name="Averaged low points over two rounds",
    section=SectionRules(absent=size_plus(3), disqualified=size_plus(3)),
    season=SeasonRules(ties=(SEASON_RUNGS["weight"], SEASON_RUNGS["best round weight"])),
)

HIGH_BY_TEAMS = Rulebook(
    name="High points from the number of teams",
    section=SectionRules(
        direction=HIGH,
        top=TOP_TEAMS,
        equal=BETTER,
        blank=NOTHING,
        absent=NOTHING,
        disqualified=NOTHING,
    ),
    team=TeamRules(ties=(TEAM_RUNGS["weight"],)),
)

HIGH_BY_SECTION = Rulebook(
    name="High points from the size of the section",
    section=SectionRules(
        direction=HIGH,
        top=TOP_SECTION,
        blank=NOTHING,
        absent=NOTHING,
        disqualified=NOTHING,
    ),
)

WINTER_LEAGUE = Rulebook(
    name="High points, best five places",
    section=HIGH_BY_SECTION.section,
    net=NetRules(limit=40 * DRAMS_IN_POUND),
    team=TeamRules(
        ties=(TEAM_RUNGS["weight"], TEAM_RUNGS["section wins"], TEAM_RUNGS["best weight"])
    ),
    season=SeasonRules(score=BY_PLACES, best=5, ties=(SEASON_RUNGS["weight"],)),
)

SHARED_BETTER = Rulebook(
    name="Low points, equals share the better place",
    section=SectionRules(equal=BETTER, blank=HALF_SUM),
    season=SeasonRules(
        ties=(
            SEASON_RUNGS["better"],
            SEASON_RUNGS["weight"],
            SEASON_RUNGS["best round weight"],
        )
    ),
)

CAPPED_LOW = Rulebook(
    name="Low points in small sections, capped",
    section=SectionRules(
        blank=LAST_PLACE,
        not_weighed=blank_plus(1),
        absent=fixed(8),
        disqualified=fixed(8),
        cap=CAP_SMALLEST,
    ),
    season=SeasonRules(drop=3, ties=(SEASON_RUNGS["weight"],)),
)

WHOLE_MATCH_LOW = Rulebook(
    name="Low points over the whole match, best eight",
    section=SectionRules(
        blank=with_fish_plus(5),
        absent=blank_plus(5),
        disqualified=blank_plus(5),
    ),
    season=SeasonRules(
        best=8, minimum=5, ties=(SEASON_RUNGS["round wins"], SEASON_RUNGS["weight"])
    ),
)

WHOLE_MATCH_HIGH = Rulebook(
    name="High points from sixty, best twelve",
    section=SectionRules(
        direction=HIGH,
        top=top_at_least(60),
        blank=fixed(1),
        absent=NOTHING,
        disqualified=NOTHING,
    ),
    season=SeasonRules(best=12),
)

WEIGHT_LEAGUE = Rulebook(
    name="Aggregate weight",
    section=SectionRules(blank=AVERAGE_OF_THE_REST),
    season=SeasonRules(score=BY_WEIGHT, ties=(SEASON_RUNGS["best round weight"],)),
)

# By the name a command or a form asks for.
READY_MADE: dict[str, Rulebook] = {
    "averaged-low": AVERAGED_LOW,
    "two-round-low": TWO_ROUND_PLACES,
    "shared-better-low": SHARED_BETTER,
    "capped-low": CAPPED_LOW,
    "whole-match-low": WHOLE_MATCH_LOW,
    "high-by-section": HIGH_BY_SECTION,
    "high-by-teams": HIGH_BY_TEAMS,
    "high-best-five-places": WINTER_LEAGUE,
    "whole-match-high": WHOLE_MATCH_HIGH,
    "aggregate-weight": WEIGHT_LEAGUE,
}
