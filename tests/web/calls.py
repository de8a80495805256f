"""Made-up calls of the interface, good and bad, each answer held against the description."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import Case, GenerationMode
from schemathesis.schemas import BaseSchema

# The caller takes what comes as it is, and would not unpack it.
PLAIN = {"Accept-Encoding": "identity"}


def make_calls(
    schema: BaseSchema, mode: GenerationMode, *, each: int, known: Mapping[str, Any]
) -> Counter[int]:
    """
    Call every address of *schema* up to *each* times, and count the answers by their status.

    Every other good call names what is *known* to be there, so that more than refusals is seen.

    The calls are the same every time. A server error, an answer that its description does not
    allow, and a bad call that is answered as a good one fail.
    """
    answers: Counter[int] = Counter()
    for found in schema.get_all_operations():
        operation = found.ok()
        if mode is GenerationMode.NEGATIVE and not (operation.path_parameters or operation.query):
            continue  # there is nothing to ask wrongly

        @settings(
            max_examples=each,
            derandomize=True,
            database=None,
            deadline=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy(generation_mode=mode))
        def call(case: Case) -> None:
            if mode is GenerationMode.POSITIVE and answers.total() % 2:
                case.path_parameters |= {
                    name: known[name] for name in case.path_parameters if name in known
                }
            answers[case.call_and_validate(headers=PLAIN).status_code] += 1

        call()
    return answers
