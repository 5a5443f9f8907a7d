"""The gap plan of a queue: which rows take part, what they weigh, and when the plan is made anew.

A plan that changed with every request would move rows under the engineer's hand. So it is made anew when a song or gap
begins, after each answer and each half minute, of what had been asked by then and for what was left of the usual gap by
then; what is asked since stands behind it, in the order of asking. The page itself keeps the row in hand where it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from monreq.domain import gap_plan
from monreq.domain.gaps import left_s, usual_gap
from monreq.domain.group_sends import sends_to_set
from monreq.domain.paces import Paces, learn
from monreq.domain.requests import Request, RowKey
from monreq.domain.show import Show
from monreq.domain.weights import weight

REPLAN_MS = 30_000  # chosen: about a gap, so that a plan made in one holds through it [ms]


@dataclass(frozen=True, slots=True)
class PlannedOrder:
    """Rows in working order.

    Attributes:
        keys: Those of the plan, then those asked since.
        later: Those that do not fit into this gap, or the next while a song runs; those asked since stand behind it.
        fits: How many of the plan do.
    """

    keys: tuple[RowKey, ...]
    later: frozenset[RowKey]
    fits: int


def planned_order(show: Show, rows: Sequence[tuple[RowKey, Sequence[Request]]]) -> PlannedOrder:
    """Order rows that are neither urgent nor set aside.

    Args:
        show: The state that they belong to.
        rows: Each with its requests, in the order of asking.
    """
    made_at_ms = _made_at_ms(show)
    asked_by_then = {key: [one for one in requests if one.at_ms <= made_at_ms] for key, requests in rows}
    keys = {_id(key): key for key, requests in asked_by_then.items() if requests}
    paces = learn(show.decisions.values())
    round_s = show.settings.song_s + usual_gap(show).gap_s
    plan = _plan(
        tuple(
            gap_plan.Row(
                row,
                key.mix,
                paces.move_s * max(1, len(sends_to_set(show, key)) if key.source in show.groups else 1),
                weight(
                    len(asked_by_then[key]),
                    (made_at_ms - asked_by_then[key][0].at_ms) / 1000,
                    round_s=round_s,
                ),
            )
            for row, key in keys.items()
        ),
        left_s(show, made_at_ms),
        show.settings.song_s,
        paces,
    )
    since = [key for key, requests in asked_by_then.items() if not requests]
    in_gap = frozenset(plan.in_gap)
    put_off = [keys[row] for row in plan.order if row not in in_gap]
    return PlannedOrder(
        keys=(*(keys[row] for row in plan.order), *since),
        later=frozenset((*put_off, *since) if put_off else ()),
        fits=len(in_gap),
    )


def _made_at_ms(show: Show) -> int:
    """Return when the plan that holds now was made: a function of the state alone, so that all pages show one order."""
    last_answer_ms = [decision.at_ms for decision in list(show.decisions.values())[-1:]]
    return max(0, show.stretch.at_ms or 0, *last_answer_ms, show.at_ms - show.at_ms % REPLAN_MS)


def _id(key: RowKey) -> str:
    return f"{key.mix}/{key.source or ''}/{key.kind}"


@lru_cache(maxsize=64)
def _plan(rows: tuple[gap_plan.Row, ...], gap_s: float, song_s: float, paces: Paces) -> gap_plan.Plan:
    """Plan, or return the plan that was made of the same: an exact one can take a tenth of a second."""
    return gap_plan.plan(rows, gap_s, setup_s=paces.setup_s, song_s=song_s, at_mix=paces.at_mix)
