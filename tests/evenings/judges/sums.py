"""Whether what the program shows is what the account comes to: rows, their sums, and where every level stands."""

from typing import Any, Final

from monreq.domain.requests import Kind
from tests.evenings.found import Found
from tests.evenings.judges.account import Account

_PER_DB: Final = 10
_PER_SIDE: Final = 100


def check_queue(account: Account, answer: Any) -> None:
    """Compare the queue of the JSON interface: every request that waits stands in it once, in its row."""
    rows = answer["rows"]
    named = [_own(one) for row in rows for one in row["requests"]]
    if sorted(named) != sorted(account.waiting):
        lost, doubled = set(account.waiting) - set(named), [one for one in set(named) if named.count(one) > 1]
        raise Found(
            "sums",
            f"lost in the queue: {lost}, doubled: {doubled}, in it too: {set(named) - set(account.waiting)}",
        )
    sums = account.sums()
    for row in rows:
        key = (row["mix"], row["source"], row["kind"])
        own = {account.waiting[_own(one)].row for one in row["requests"]}
        if own != {key}:
            raise Found("sums", f"row {key} holds requests of {own}")
        shown = _shown(row)
        if shown is not None and shown != sums[key]:
            raise Found("sums", f"row {key} shows {shown}, {sums[key]} waits")


def _own(told: str) -> str:
    """Return the show's own id of a request that programs are told with its show's mark."""
    return told.partition(".")[0]


def _shown(row: Any) -> int | None:
    name, per_one = {Kind.LEVEL: ("sum_db", _PER_DB), Kind.PAN: ("sum_pan", _PER_SIDE)}.get(
        row["kind"], ("", 0)
    )
    return round(float(row[name]) * per_one) if name else None


def check_mix(account: Account, answer: Any) -> None:
    """Compare a mix of the JSON interface: all of its sends and its output stand where the account has them."""
    mix = answer["mix"]
    shown: dict[str | None, Any] = {None: answer["output_db"]}
    shown |= {one["source"]: one["level_db"] for one in answer["sends"]}
    wanted = {
        source: one.level_tenths if one.is_on else None
        for (of_mix, source), one in account.stands.items()
        if of_mix == mix
    }
    found = {source: None if level is None else round(level * _PER_DB) for source, level in shown.items()}
    if found != wanted:
        differing = {one: (found.get(one), wanted.get(one)) for one in found.keys() | wanted.keys()}
        wrong = {one: both for one, both in differing.items() if both[0] != both[1]}
        raise Found("sums", f"{mix} shows and stands at: {wrong}")
