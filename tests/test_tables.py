"""Every table keyed by an enum, or by kinds of events or commands, has an entry for each: what is missing dies in use."""

import ast
from collections.abc import Mapping
from types import ModuleType

from monreq.domain.hearing import Heard
from monreq.domain.requests import Outcome
from tests.support.tables import UNIONS, Table, tables, tables_in

PARTIAL: Mapping[str, str] = {
    "domain.carry_conversion.notes": "each function adds the notes of its own part, when they hold",
    "domain.carry_conversion.cautions": "each function adds the notes of its own part, when they hold",
    "domain.history._WITHOUT_FIGURES": "read by one case, which names the same four events",
    "domain.input_words._USES": "what no word says is music",
    "domain.put_back.is_set": "a call or a sound is about no figure that a hand could set",
    "domain.sense._CROSSED": "read by get: what else can be crossed is the reserve of a margin",
    "domain.suggest._BECAUSE": "read by get: the others cut nothing off a sum",
    "domain.suggest._BECAUSE_OF": "read by get: what it does not hold is said by the code alone",
    "domain.suggest.down": "only these calls turn something down; the function asks whether a call is there",
    "web.caution_words._BEFORE_THE_MARK": "laid over the table for all bases: only these differ before the mark",
    "web.caution_words._BOUND_TIGHTER_ELSEWHERE": "asked whether it holds the code: the others say nothing of a bound",
    "web.caution_words._OF_BASIS": "read by get: the others are said by the code alone",
    "web.phone_view._WHILE_WAITING": "read by get: only for these is there something to do meanwhile",
}
"""Tables that need not be complete, each with the reason."""


def found_in(source: str) -> list[Table]:
    module = ModuleType("monreq.made_up")
    vars(module).update(Heard=Heard, Outcome=Outcome)
    return list(tables_in(module, ast.parse(source)))


def test_every_table_has_an_entry_for_each_member_or_a_reason_why_not() -> None:
    incomplete = {one.name: one.missing for one in tables() if one.missing}

    assert {name: lacks for name, lacks in incomplete.items() if name not in PARTIAL} == {}


def test_every_reason_is_still_needed() -> None:
    incomplete = {one.name for one in tables() if one.missing}

    assert set(PARTIAL) - incomplete == set()


def test_the_tables_that_fold_and_decide_are_among_those_found() -> None:
    found = {one.name: one.keyed_by for one in tables()}

    assert found["domain.fold._APPLY"] == "Event"
    assert found["domain.decide._DECIDE"] == "Command"
    assert found["web.heard_view._SAID"] == "Heard x bool"
    assert found["web.history_view._VERBS"] == "What"


def test_a_table_that_lacks_a_member_is_found_and_the_member_named() -> None:
    (table,) = found_in("_WORDS = {Heard.RIGHT: 1, Heard.TOO_MUCH: 2}")

    assert table == Table("made_up._WORDS", "Heard", ("TOO_LITTLE",))


def test_a_table_of_pairs_lacks_what_its_product_has() -> None:
    (table,) = found_in(
        "_SAID = {(Heard.RIGHT, True): 1, (Heard.TOO_MUCH, True): 2, (Heard.TOO_LITTLE, True): 2}"
    )

    assert table.missing == ("RIGHT, False", "TOO_LITTLE, False", "TOO_MUCH, False")


def test_a_table_that_takes_in_another_has_its_entries_too() -> None:
    module = ModuleType("monreq.made_up")
    vars(module).update(Heard=Heard, _BASE={Heard.RIGHT: 1, Heard.TOO_LITTLE: 2})

    (table,) = tables_in(module, ast.parse("def words():\n    return {**_BASE, Heard.TOO_MUCH: 2}"))

    assert table == Table("made_up.words", "Heard", ())


def test_dicts_of_other_keys_are_no_such_tables() -> None:
    assert found_in("a = {}\nb = {'x': 1}\nc = {Heard.RIGHT: 1, Outcome.DONE: 2}\nd = {unknown.x: 1}") == []


def test_events_and_commands_are_whole_unions() -> None:
    assert all(len(kinds) > 50 for kinds in UNIONS.values())
