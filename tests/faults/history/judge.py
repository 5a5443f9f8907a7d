"""Judges a history against what the server says once all is quiet: the invariants, in our words."""

from collections import Counter
from itertools import pairwise
from typing import Any

from tests.faults.history.record import Call, End, History


def lost(history: History, known: dict[str, list[str]]) -> list[Call]:
    """Return requests that were acknowledged and are in no history of their mix.

    Args:
        history: What clients saw.
        known: The requests of each mix, as its history has them.
    """
    asked = [call for call in history.of(desk=False) if call.end is End.OK]
    return [call for call in asked if call.answer["request"] not in known[call.mix]]


def doubled(history: History, known: dict[str, list[str]]) -> list[object]:
    """Return requests that exist twice, that nobody asked, or that one call came to more than once."""
    calls = [call for call in history.of(desk=False) if call.end is End.OK]
    counts = Counter(call.answer["request"] for call in calls)
    twice: list[object] = [request for request, count in counts.items() if count > 1]
    twice += [one for call in calls for one in call.again if one["request"] != call.answer["request"]]
    for mix, requests in known.items():
        answered = {call.answer["request"] for call in calls if call.mix == mix}
        twice += [request for request, count in Counter(requests).items() if count > 1]
        twice += [request for request in requests if request not in answered]
    return twice


def answered_twice(history: History, entries: list[Any]) -> list[str]:
    """Return requests that two decisions answered, by the desks' own word or by the history."""
    by_desks = Counter(
        request for call in history.of(desk=True) if call.end is End.OK for request in call.body["requests"]
    )
    by_history = Counter(
        request for entry in entries if entry["decision"] is not None for request in entry["requests"]
    )
    return [request for counts in (by_desks, by_history) for request, count in counts.items() if count > 1]


def decisions_lost(history: History, entries: list[Any]) -> list[str]:
    """Return decisions that a desk was told of and no history has."""
    known = {entry["decision"] for entry in entries}
    told = [call.answer["decision"] for call in history.of(desk=True) if call.end is End.OK]
    return [decision for decision in told if decision not in known]


def out_of_order(entries: list[Any]) -> list[int]:
    """Return revisions that do not grow in a history."""
    revisions = [entry["revision"] for entry in entries]
    return [after for before, after in pairwise(revisions) if after < before]
