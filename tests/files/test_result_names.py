"""A name in a kept result, put otherwise: every place it stands, and nothing else."""

from __future__ import annotations

import copy
from typing import Any

from league.files.result_names import rename, rename_payee

DOCUMENT: dict[str, Any] = {
    "match": {"name": "Tom Kerrow Memorial"},
    "sections": [
        {
            "section": "A",
            "anglers": [
                {"angler_id": "7", "angler": "Tom Kerrow", "team": "Kerrow Reds", "note": ""},
                {"angler_id": "8", "angler": "Tom Kerrowby", "team": "", "note": ""},
            ],
        }
    ],
    "teams": [{"team": "Kerrow Reds", "left_out": ["7"], "short": [], "why": "Tom Kerrow absent"}],
    "anglers": [{"angler_id": "7", "angler": "Tom Kerrow", "place": 1}],
    "gaps": ["Peg 3, Tom Kerrow: not weighed yet."],
    "decisions": [{"angler_id": "7", "says": "Tom Kerrow: disqualified. Late.", "why": "Late."}],
}


def test_the_name_goes_from_lines_and_sentences_and_the_match_keeps_its_own() -> None:
    before = copy.deepcopy(DOCUMENT)

    found = rename(DOCUMENT, "7", "Tom K. (junior)")

    assert before == DOCUMENT  # what was handed in is left as it was
    lines = found.document["sections"][0]["anglers"]
    assert [line["angler"] for line in lines] == ["Tom K. (junior)", "Tom Kerrowby"]
    assert found.document["anglers"][0]["angler"] == "Tom K. (junior)"
    assert found.document["gaps"] == ["Peg 3, Tom K. (junior): not weighed yet."]
    assert found.document["decisions"][0]["says"] == "Tom K. (junior): disqualified. Late."
    assert found.document["teams"][0]["why"] == "Tom K. (junior) absent"
    assert found.document["match"]["name"] == "Tom Kerrow Memorial"
    assert found.document["teams"][0]["team"] == "Kerrow Reds"
    assert found.old_names == {"Tom Kerrow"}
    assert not found.shared


def test_the_lines_of_one_record_become_anothers() -> None:
    found = rename(DOCUMENT, "7", "Thomas Kerrow", new_id="9")

    assert found.document["sections"][0]["anglers"][0]["angler_id"] == "9"
    assert found.document["anglers"][0]["angler_id"] == "9"
    assert found.document["decisions"][0]["angler_id"] == "9"
    assert found.document["teams"][0]["left_out"] == ["9"]


def test_a_payees_name_goes_from_a_sheet_of_payouts_and_no_sum_moves() -> None:
    sheet = {
        "plan": {"fund": "Tom Kerrow fund"},
        "paid": {"stake": ["7", "8"]},
        "settlement": {
            "outs": [
                {"key": "7", "name": "Tom Kerrow", "pence": 1250, "reason": {"facts": {}}},
                {"key": "8", "name": "Ivy Marsh", "pence": 700, "reason": {"facts": {}}},
            ]
        },
    }

    found = rename_payee(sheet, "7", "Name removed 1", new_id="9", also=["Tom Kerrow"])

    assert found["settlement"]["outs"] == [
        {"key": "9", "name": "Name removed 1", "pence": 1250, "reason": {"facts": {}}},
        {"key": "8", "name": "Ivy Marsh", "pence": 700, "reason": {"facts": {}}},
    ]
    assert found["paid"] == {"stake": ["9", "8"]}
    assert found["plan"] == sheet["plan"]


def test_where_two_have_one_name_only_what_is_certainly_this_ones_changes() -> None:
    two = copy.deepcopy(DOCUMENT)
    two["sections"][0]["anglers"][1]["angler"] = "Tom Kerrow"

    found = rename(two, "7", "Name removed 1")

    assert found.shared
    lines = found.document["sections"][0]["anglers"]
    assert [line["angler"] for line in lines] == ["Name removed 1", "Tom Kerrow"]
    assert found.document["decisions"][0]["says"] == "Name removed 1: disqualified. Late."
    assert found.document["gaps"] == ["Peg 3, Tom Kerrow: not weighed yet."]
