"""Announced pools and payouts as plain values and back, sums in whole pence: what rows keep."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.rules.lines import Reason
from league.rules.pools import CameIn, Settlement
from league.rules.pools_plan import (
    FEATS,
    FRAME_RULES,
    LEFT_RULES,
    Fee,
    GoldenPeg,
    OptionalPool,
    Plan,
    Split,
)
from league.rules.pools_shares import Payout


def plan_as_dict(plan: Plan) -> dict[str, Any]:
    """The announced pools as a dictionary that `json.dumps` takes."""
    golden = plan.golden
    return {
        "stake": plan.stake,
        "fees": [{"name": fee.name, "each": fee.each} for fee in plan.fees],
        "frame": plan.frame,
        "frame_split": str(plan.frame_split),
        "section": plan.section,
        "section_split": str(plan.section_split),
        "team": plan.team,
        "team_split": str(plan.team_split),
        "optional": [
            {"name": pool.name, "stake": pool.stake, "split": str(pool.split)}
            for pool in plan.optional
        ],
        "golden": None
        if golden is None
        else {
            "peg": golden.peg,
            "of_stake": golden.of_stake,
            "stake": golden.stake,
            "carried": golden.carried,
            "feat": golden.feat.key,
        },
        "frame_rule": plan.frame_rule.key,
        "left_rule": plan.left_rule.key,
        "unit": plan.unit,
        "fish_only": plan.fish_only,
        "juniors": plan.juniors,
        "fund": plan.fund,
        "brought": plan.brought,
    }


def plan_from_dict(data: Mapping[str, Any]) -> Plan:
    """The pools that `plan_as_dict` wrote."""
    golden = data["golden"]
    return Plan(
        stake=data["stake"],
        fees=tuple(Fee(fee["name"], fee["each"]) for fee in data["fees"]),
        frame=data["frame"],
        frame_split=Split.parse(data["frame_split"]),
        section=data["section"],
        section_split=Split.parse(data["section_split"]),
        team=data["team"],
        team_split=Split.parse(data["team_split"]),
        optional=tuple(
            OptionalPool(pool["name"], pool["stake"], Split.parse(pool["split"]))
            for pool in data["optional"]
        ),
        golden=None
        if golden is None
        else GoldenPeg(
            peg=golden["peg"],
            of_stake=golden["of_stake"],
            stake=golden["stake"],
            carried=golden["carried"],
            feat=FEATS[golden["feat"]],
        ),
        frame_rule=FRAME_RULES[data["frame_rule"]],
        left_rule=LEFT_RULES[data["left_rule"]],
        unit=data["unit"],
        fish_only=data["fish_only"],
        juniors=data["juniors"],
        fund=data["fund"],
        brought=data["brought"],
    )


def settlement_as_dict(settled: Settlement) -> dict[str, Any]:
    """Payouts with their reasons, as a sheet of them is kept."""
    return {
        "came_in": [
            {"what": each.what, "heads": each.heads, "pence": each.pence}
            for each in settled.came_in
        ],
        "outs": [
            {
                "kind": each.kind,
                "pool": each.pool,
                "key": each.key,
                "name": each.name,
                "pence": each.pence,
                "reason": {"rule": each.reason.rule, "facts": dict(each.reason.facts)},
            }
            for each in settled.outs
        ],
    }


def settlement_from_dict(data: Mapping[str, Any]) -> Settlement:
    """The payouts that `settlement_as_dict` wrote, the same to the last reason."""
    return Settlement(
        tuple(CameIn(each["what"], each["heads"], each["pence"]) for each in data["came_in"]),
        tuple(
            Payout(
                each["kind"], each["pool"], each["key"], each["name"], each["pence"],
                Reason(each["reason"]["rule"], each["reason"]["facts"]),
            )
            for each in data["outs"]
        ),
    )  # fmt: skip
