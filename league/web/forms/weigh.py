"""The scales: typed weights into weights, nets into nets, and slips that say what to type."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django import forms
from django.core.exceptions import ValidationError
from django.utils.datastructures import MultiValueDict

from league.columns import STATUS_WORDS
from league.rules.errors import WeightError
from league.rules.lines import Status
from league.rules.meant import ask_if_meant
from league.rules.weights import Unit, Weight

EXAMPLES = {Unit.LB_OZ: "12-8 for 12 lb 8 oz", Unit.KG: "5.640 for 5 kg 640 g"}
FEWEST_BOXES = 3
# What the scales may say; whoever is disqualified is so by a decision.
AT_THE_SCALES = (Status.WEIGHED, Status.BLANK, Status.NOT_WEIGHED, Status.ABSENT)
ALL_BUT_DECIDED = (*AT_THE_SCALES[:3], Status.WITHDREW, Status.ABSENT)


class WeightField(forms.Field):
    """Hands over a `Weight` in the match's unit, or tells the scalesman what to type."""

    widget = forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "off"})

    def __init__(self, *, unit: Unit, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.unit = unit

    def to_python(self, typed: str | None) -> Weight | None:
        """Read the figure; an empty box is none."""
        if not typed or not typed.strip():
            return None
        try:
            return Weight.parse(typed, self.unit)
        except WeightError as error:
            words = f"{error}{ask_if_meant(typed, self.unit)}"
            raise ValidationError(words, code="unreadable") from error


class BoxesInput(forms.Widget):
    """Several boxes of one name; the page draws them itself."""

    template_name = "scales/_nets.html"

    def value_from_datadict(
        self, data: MultiValueDict[str, str] | dict[str, Any], files: Any, name: str
    ) -> list[str]:
        """Everything typed, in the order of the boxes; a single box may come with several nets."""
        typed = data.getlist(name) if hasattr(data, "getlist") else data.get(name, [])
        return [part for box in typed for part in box.split("+")]


class NetsField(forms.Field):
    """Hands over the nets as read, in drams or grams; empty boxes are no nets."""

    widget = BoxesInput

    def __init__(self, *, unit: Unit, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.unit = unit

    def to_python(self, typed: Sequence[str] | None) -> tuple[int, ...]:
        """Read every net; each slip names its net, and all of them are told at once."""
        slips = []
        nets = []
        for number, box in enumerate(typed or (), start=1):
            if not box.strip():
                continue
            try:
                nets.append(Weight.parse(box, self.unit).amount)
            except WeightError as error:
                slips.append(
                    ValidationError(
                        f"Net {number}: {error}{ask_if_meant(box, self.unit)}",
                        code="unreadable",
                        params={"net": number},
                    )
                )
        if slips:
            raise ValidationError(slips)
        return tuple(nets)

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Nets are always sent in full."""
        return True


@dataclass(frozen=True, slots=True)
class Box:
    """One box for a net, as it was typed."""

    number: int
    typed: str
    has_slip: bool


class WhyField(forms.CharField):
    """A reason, which is kept for ever beside what it is the reason for."""

    def __init__(self, missing: str, **kwargs: Any) -> None:
        super().__init__(max_length=200, error_messages={"required": missing}, **kwargs)


class WeighForm(forms.Form):
    """One peg: its nets, or what became of the angler in place of a weight."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    status = forms.ChoiceField(label="What became of it", widget=forms.RadioSelect)
    # Which questions have been answered with yes; a figure that changes is asked about again.
    agreed = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(
        self,
        *args: Any,
        unit: Unit,
        statuses: Sequence[Status] = AT_THE_SCALES,
        boxes: int = FEWEST_BOXES,
        correcting: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.unit = unit
        self.fewest_boxes = boxes
        self.fields["status"].choices = [  # type: ignore[attr-defined]
            (status.value, STATUS_WORDS[status].capitalize()) for status in statuses
        ]
        self.fields["status"].initial = Status.WEIGHED.value
        self.fields["nets"] = NetsField(unit=unit, label="Nets", required=False)
        if correcting:
            self.fields["why"] = WhyField(
                "Say what was wrong with the old figure: it is kept with its reason.",
                label="What was wrong with the old figure",
            )

    @property
    def boxes(self) -> list[Box]:
        """What was typed, box by box, and enough empty ones to go on with."""
        typed = [box for box in self["nets"].value() or [] if box.strip()]
        slips = set()
        if "nets" in self.errors:
            slips = {error.params["net"] for error in self.errors.as_data()["nets"] if error.params}
            typed = list(self["nets"].value())
        count = max(self.fewest_boxes, len(typed) + 1)
        typed += [""] * (count - len(typed))
        return [Box(number, box, number in slips) for number, box in enumerate(typed, start=1)]

    @property
    def example(self) -> str:
        """How a weight is typed."""
        return EXAMPLES[self.unit]

    def clean_status(self) -> Status:
        """Hand over the rules' own word."""
        return Status(self.cleaned_data["status"])

    def clean(self) -> dict[str, Any]:
        """Refuse a weight beside a blank, and a weigh-in without a weight."""
        cleaned = super().clean() or {}
        status, nets = cleaned.get("status"), cleaned.get("nets")
        if status is None or nets is None:
            return cleaned
        if status is Status.WEIGHED and not nets:
            self.add_error("nets", "No net is entered. Type what was read, or choose blank.")
        elif status is Status.WEIGHED and not sum(nets):
            self.add_error("nets", "Nothing on the scales is a blank: choose blank.")
        elif status not in {Status.WEIGHED, Status.WITHDREW} and nets:
            said = STATUS_WORDS[status]
            self.add_error(
                "nets", f"{said.capitalize()}, yet a net is entered. Choose one of them."
            )
        return cleaned


class SettleForm(forms.Form):
    """Which of two figures stands, and why."""

    keep = forms.IntegerField(
        widget=forms.HiddenInput, error_messages={"required": "Say which figure stands."}
    )
    why = WhyField("Say why: the other figure is kept with its reason.", label="Why")
