"""Money typed: what a match asks and how it is paid out, a payment set aside, the tin counted."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.rules.errors import RuleError
from league.rules.pools_pence import pence, plain
from league.rules.pools_plan import (
    FEATS,
    FRAME_RULES,
    LEFT_RULES,
    UNITS,
    WINNER_ONLY,
    Fee,
    GoldenPeg,
    OptionalPool,
    Plan,
    Split,
    checked,
)
from league.web.forms.weigh import WhyField

BOX = {"autocomplete": "off", "inputmode": "decimal", "size": 8}


class MoneyField(forms.CharField):
    """Hands over pence: 10, 12.50 or 50p; an empty box is nothing."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        super().__init__(widget=forms.TextInput(attrs=BOX), max_length=12, **kwargs)

    def clean(self, value: Any) -> Any:
        """Read what was typed."""
        typed = super().clean(value)
        if not typed:
            return 0
        try:
            return pence(typed)
        except RuleError as error:
            raise ValidationError(str(error)) from error

    def prepare_value(self, value: Any) -> Any:
        """Pence as pounds; what was typed stays as it was typed."""
        return (plain(value) if value else "") if isinstance(value, int) else value


class SplitField(forms.CharField):
    """Hands over a `Split`: 60/30/10, 60/25/15; from 12: 40/30/20/10, or one in 3."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            required=False, max_length=120, widget=forms.TextInput(attrs={"autocomplete": "off"}),
            **kwargs,
        )  # fmt: skip

    def clean(self, value: Any) -> Any:
        """Read what was typed; an empty box pays the first alone."""
        typed = super().clean(value)
        try:
            return Split.parse(typed) if typed else WINNER_ONLY
        except RuleError as error:
            raise ValidationError(str(error)) from error


class PlanForm(forms.Form):
    """What a match asks of an angler, and how the pools are paid."""

    stake = MoneyField(
        label="The stake, a head", help_text="What an angler pays, all parts together, in £."
    )
    fees = forms.CharField(
        label="Of it, what goes into no pool",
        required=False,
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 2, "autocomplete": "off"}),
        help_text="One a line: Peg fees 6.00",
    )
    frame = MoneyField(label="Of it, to the frame")
    frame_split = SplitField(
        label="The frame is split",
        help_text="60/30/10, or 60/25/15; from 12: 40/30/20/10, or one in 3.",
    )
    section = MoneyField(
        label="Of it, to the sections", help_text="Shared alike between the sections."
    )
    section_split = SplitField(
        label="Each section is split", help_text="Left empty, all to its first."
    )
    frame_rule = forms.ChoiceField(
        label="Section money",
        choices=[(rule.key, rule.words) for rule in FRAME_RULES.values()],
        widget=forms.RadioSelect,
    )
    left_rule = forms.ChoiceField(
        label="A section with nobody left to take it",
        choices=[(rule.key, rule.words) for rule in LEFT_RULES.values()],
        widget=forms.RadioSelect,
    )
    team = MoneyField(label="Of it, to the teams")
    team_split = SplitField(
        label="The teams are split", help_text="A team's prize is shared alike by its members."
    )
    optional = forms.CharField(
        label="Optional pools, for those who pay into them",
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 2, "autocomplete": "off"}),
        help_text="One a line: Super pool 2.00 60/40",
    )
    golden_of_stake = MoneyField(label="Of the stake, to the golden peg")
    golden_stake = MoneyField(label="Or paid on top, to be in the golden peg")
    golden_peg = forms.CharField(
        label="The golden peg drawn",
        required=False,
        max_length=8,
        widget=forms.TextInput(attrs={"autocomplete": "off", "size": 4}),
        help_text="Its number, once it is drawn.",
    )
    golden_feat = forms.ChoiceField(
        label="Its holder takes the fund who",
        choices=[(feat.key, feat.words) for feat in FEATS.values()],
    )
    golden_carried = MoneyField(label="Carried in from matches before")
    unit = forms.TypedChoiceField(
        label="Prizes are rounded to", coerce=int, choices=list(UNITS.items())
    )
    fish_only = forms.BooleanField(label="No fish, no prize", required=False)
    juniors = forms.BooleanField(
        label="Juniors are in the pools",
        required=False,
        help_text="Whether they may be is for the club and the law to say. Left out, they pay "
        "what goes into no pool, and take no prize.",
    )
    fund = forms.CharField(
        label="What does not split, and what nobody takes, goes to the",
        max_length=40,
        error_messages={"required": "Name the fund, such as Club fund."},
    )
    brought = MoneyField(
        label="Change in the tin at the start", help_text="Counted again at the end, in no pool."
    )

    def __init__(self, *args: Any, plan: Plan, **kwargs: Any) -> None:
        kwargs.setdefault("initial", as_typed(plan))
        super().__init__(*args, **kwargs)

    def clean_fees(self) -> tuple[Fee, ...]:
        """A name and a sum on every line."""
        found = []
        for line in self.cleaned_data["fees"].splitlines():
            name, _, sum_ = line.strip().rpartition(" ")
            if line.strip() and not name:
                raise ValidationError(
                    f"Write what it is and the sum, as Peg fees 6.00, not {line}."
                )
            if line.strip():
                found.append(Fee(name.strip(), _sum(sum_)))
        return tuple(found)

    def clean_optional(self) -> tuple[OptionalPool, ...]:
        """A name, a sum, and a split if it is not all to the first, on every line."""
        lines = self.cleaned_data["optional"].splitlines()
        return tuple(_optional(line.split()) for line in lines if line.strip())

    def clean(self) -> dict[str, Any]:
        """The parts make up the stake."""
        data: dict[str, Any] = super().clean() or {}
        if not self.errors:
            try:
                checked(self.plan)
            except RuleError as error:
                self.add_error(None, str(error))
        return data

    @property
    def plan(self) -> Plan:
        """The pools as typed."""
        data = self.cleaned_data
        golden = GoldenPeg(
            peg=data["golden_peg"].strip(),
            of_stake=data["golden_of_stake"],
            stake=data["golden_stake"],
            carried=data["golden_carried"],
            feat=FEATS[data["golden_feat"]],
        )
        asked = golden.of_stake or golden.stake or golden.carried
        plain_ones = ("stake", "fees", "frame", "frame_split", "section", "section_split", "team",
                      "team_split", "optional", "unit", "fish_only", "juniors", "fund",
                      "brought")  # fmt: skip
        return Plan(
            **{name: data[name] for name in plain_ones},
            golden=golden if asked else None,
            frame_rule=FRAME_RULES[data["frame_rule"]],
            left_rule=LEFT_RULES[data["left_rule"]],
        )


class AsideForm(forms.Form):
    """Why a payment does not stand."""

    why = WhyField("Say why: it stands in the account.", label="Why it does not stand")


class CloseForm(forms.Form):
    """The tin as counted."""

    counted = MoneyField(
        label="Counted in the tin",
        required=True,
        help_text="Everything in it, the change from the start too, in £.",
        error_messages={"required": "Count the tin and write what is in it; nothing is 0."},
    )
    why = forms.CharField(
        label="Why it differs, if it does",
        required=False,
        max_length=300,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text="The difference then stands in the account.",
    )


def as_typed(plan: Plan) -> dict[str, Any]:
    """The *plan* as it would be typed into the form."""
    golden = plan.golden or GoldenPeg()
    return {
        "stake": plan.stake,
        "fees": "\n".join(f"{fee.name} {plain(fee.each)}" for fee in plan.fees),
        "frame": plan.frame,
        "frame_split": str(plan.frame_split) if plan.frame else "",
        "section": plan.section,
        "section_split": str(plan.section_split) if plan.section else "",
        "frame_rule": plan.frame_rule.key,
        "left_rule": plan.left_rule.key,
        "team": plan.team,
        "team_split": str(plan.team_split) if plan.team else "",
        "optional": "\n".join(
            f"{pool.name} {plain(pool.stake)}"
            + ("" if pool.split == WINNER_ONLY else f" {pool.split}")
            for pool in plan.optional
        ),
        "golden_of_stake": golden.of_stake,
        "golden_stake": golden.stake,
        "golden_peg": golden.peg,
        "golden_feat": golden.feat.key,
        "golden_carried": golden.carried,
        "unit": plan.unit,
        "fish_only": plan.fish_only,
        "juniors": plan.juniors,
        "fund": plan.fund,
        "brought": plan.brought,
    }


def _optional(words: list[str]) -> OptionalPool:
    """The first sum that leaves a split, or nothing, behind it: a name may have figures in it."""
    for at in range(1, len(words)):
        try:
            split = Split.parse(" ".join(words[at + 1 :])) if words[at + 1 :] else WINNER_ONLY
            return OptionalPool(" ".join(words[:at])[:60], pence(words[at]), split)
        except RuleError:
            continue
    raise ValidationError(
        "Write the pool's name, its stake and its split, as Super pool 2.00 60/40, not "
        f"{' '.join(words)}."
    )


def _sum(typed: str) -> int:
    try:
        return pence(typed)
    except RuleError as error:
        raise ValidationError(str(error)) from error
