"""The ways to meet a request for more: plainly, at the same loudness, or by turning the rest of the mix down."""

from monreq.domain import balance, guard
from monreq.domain.decibels import TENTHS_PER_DB, to_db
from monreq.domain.group_sends import moves_of_group
from monreq.domain.guard_ear import one_trip
from monreq.domain.music import heard
from monreq.domain.queue import Row
from monreq.domain.refusals import NotThisWay
from monreq.domain.requests import Kind, Move, Way, moved
from monreq.domain.setup import Setting, SourceUse
from monreq.domain.show import Show
from monreq.domain.suggest import since_it_hurt

_STAYS = (SourceUse.CLICK, SourceUse.TALKBACK)


def ways_for(show: Show, row: Row) -> tuple[Way, ...]:
    """Return the ways beside the plain one that a row can be met: for a source that is asked for up, and heard.

    What makes up for a preamp is done plainly, and before anything else.
    """
    is_upward_source = row.key.kind is Kind.LEVEL and row.key.source is not None and (row.asked or 0) > 0
    if not is_upward_source or row.is_disagreement or any(request.group for request in row.requests):
        return ()
    contributions = heard(show, show.levels[row.key.mix], show.gains)
    raised = contributions.keys() & _asked_for(row)
    if not raised or len(raised) == len(contributions):
        return ()
    return (Way.SAME_LOUDNESS, Way.REST_DOWN)


def same_loudness_move(show: Show, row: Row) -> int:
    """Return how far up is advised while the output goes down against it: the ear's bounds on a louder mix do not hold.

    [0.1 dB]
    """
    sources = _asked_for(row)
    asked, _ = since_it_hurt(show, row.key, row.requests)
    if not sources or asked <= 0:
        return 0
    ends = [show.position(row.key.mix, source).setting.level_tenths for source in sources]
    move, _ = guard.raised(show, row.key.mix, sources, asked, beside=guard.OUTPUT_AGAINST)
    most = max(0, min(move, show.settings.highest_tenths - max(ends)))
    return next((less for less in range(most, 0, -1) if _suits_either_ear(show, row, less)), 0)


def _suits_either_ear(show: Show, row: Row, change_tenths: int) -> bool:
    """Whether the louder ear gets no more than is advised where a mix is as loud as before, but panned otherwise."""
    mix, after = row.key.mix, show
    for source, change in _changes(show, row, change_tenths).items():
        now = show.position(mix, source).setting
        after = guard.with_setting(after, mix, source, _moved(now, round(change * TENTHS_PER_DB)))
    against = output_against(show, row, change_tenths)
    return guard.at_same_loudness(show, guard.with_setting(after, mix, None, against.after), mix)


def rest_down_by(show: Show, row: Row) -> int:
    """Return how far down is advised for the rest of a mix: as far as was asked, and no farther than one trip. [0.1 dB]."""
    return max(0, min(row.asked or 0, one_trip(show, row.key.mix)))


def output_against(show: Show, row: Row, change_tenths: int) -> Move:
    """Return the move of the output that keeps a mix as loud as it was while a send, or a group, goes up. [0.1 dB].

    Raises:
        NotThisWay: The row is about no source that counts, or it goes down, after which the output would rise.
    """
    contributions = heard(show, show.levels[row.key.mix], show.gains)
    changes = _changes(show, row, change_tenths)
    if row.key.kind is not Kind.LEVEL or not contributions.keys() & changes.keys() or change_tenths <= 0:
        raise NotThisWay
    raised = {source: level + changes.get(source, 0.0) for source, level in contributions.items()}
    exact = -balance.drift(contributions, raised)
    output = show.levels[row.key.mix].output.setting
    return Move(row.key.mix, None, output, _moved(output, round(exact * TENTHS_PER_DB)))


def rest_down(show: Show, row: Row, amount_tenths: int) -> tuple[Move, ...]:
    """Return the moves that turn everything else down, as far as the desk's range goes. [0.1 dB].

    Talkback stays, it is how the desk reaches the musician; and click, which keeps the time.

    Raises:
        NotThisWay: The row is about no source, nothing else is on, or nothing would go down.
    """
    if row.key.kind is not Kind.LEVEL or row.key.source is None or amount_tenths <= 0:
        raise NotThisWay
    asked_for = _asked_for(row)
    rest = [
        (source.id, position.setting)
        for source, position in show.sends_in_order(row.key.mix)
        if source.id not in asked_for and source.use not in _STAYS and position.setting.is_on
    ]
    moves = [Move(row.key.mix, source, now, _lowered(show, now, amount_tenths)) for source, now in rest]
    lowered = tuple(move for move in moves if move.after != move.before)
    if not lowered:
        raise NotThisWay
    return lowered


def _asked_for(row: Row) -> set[str]:
    """Return the sources that a row is about."""
    if row.is_group:
        return {move.source for move in row.sends if move.source is not None}
    return set() if row.key.source is None else {row.key.source}


def _changes(show: Show, row: Row, change_tenths: int) -> dict[str, float]:
    """Return how far each source that a row is about goes, by its id. [dB]."""
    if not row.is_group:
        return dict.fromkeys(_asked_for(row), to_db(change_tenths))
    moves = moves_of_group(show, row.key, change_tenths)
    return {move.source: to_db(moved(Kind.LEVEL, move) or 0) for move in moves if move.source is not None}


def _moved(setting: Setting, change_tenths: int) -> Setting:
    return Setting(setting.level_tenths + change_tenths, setting.pan_percent, setting.is_on)


def _lowered(show: Show, now: Setting, amount_tenths: int) -> Setting:
    lowest = show.settings.lowest_tenths
    return _moved(now, max(-amount_tenths, min(lowest - now.level_tenths, 0)))
