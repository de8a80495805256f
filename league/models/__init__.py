"""The facts: one file a subject; this one only gathers their names."""

from league.models.decisions import Decision, DecisionKind
from league.models.doors import Invitation, Knock
from league.models.draws import DrawEvent, DrawRecord
from league.models.entries import Entry
from league.models.fields import LineUpBy
from league.models.journal import Act
from league.models.matches import Match, MatchPeg, Section, Stage
from league.models.money import (
    Handed,
    Payment,
    PaymentKind,
    PaymentSetAside,
    PayoutSheet,
    Pools,
    TinCount,
)
from league.models.objections import Objection, Outcome
from league.models.passes import CaptainPass, Phone, ScalesPass
from league.models.people import Angler, Club, Office, OfficeName, PaperSize
from league.models.reserves import Reserve
from league.models.results import Result
from league.models.seasons import League, RulesChange, Season, SquadMember, Team
from league.models.subscriptions import Subscription
from league.models.venues import Peg, Venue, Water
from league.models.weighins import SetAside, WeighIn

__all__ = [
    "Act",
    "Angler",
    "CaptainPass",
    "Club",
    "Decision",
    "DecisionKind",
    "DrawEvent",
    "DrawRecord",
    "Entry",
    "Handed",
    "Invitation",
    "Knock",
    "League",
    "LineUpBy",
    "Match",
    "MatchPeg",
    "Objection",
    "Office",
    "OfficeName",
    "Outcome",
    "PaperSize",
    "Payment",
    "PaymentKind",
    "PaymentSetAside",
    "PayoutSheet",
    "Peg",
    "Phone",
    "Pools",
    "Reserve",
    "Result",
    "RulesChange",
    "ScalesPass",
    "Season",
    "Section",
    "SetAside",
    "SquadMember",
    "Stage",
    "Subscription",
    "Team",
    "TinCount",
    "Venue",
    "Water",
    "WeighIn",
]
