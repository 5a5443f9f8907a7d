"""What a row says of the ear of its mix, where a level was measured: at the desk, and over JSON in the same words.

What the suggested move leads to is said where it matters for the day; what the whole would, where less is advised. What is
left of the day is told as of a time of day: a page that was not drawn anew since says nothing false.
"""

from collections.abc import Iterator
from dataclasses import replace

from monreq.domain.ear_after import EVENING_H, EarAfter, ear_after, ear_in
from monreq.domain.exposure_limits import action_level
from monreq.domain.guard import with_setting
from monreq.domain.queue import Row
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.clock import local_time
from monreq.web.speech import _


def ear_lines(show: Show, row: Row) -> tuple[str, ...]:
    """Return what a row says of the ear: nothing where it does not matter, or nobody measured."""
    return tuple(_lines(show, ear_after(show, row), as_asked(show, row)))


def as_asked(show: Show, row: Row) -> EarAfter | None:
    """Return what the ear would get if all were done that is asked; None where that is advised, or nobody measured."""
    asked, now = row.asked or 0, row.now
    is_cut = asked > max(0, row.suggestion.move or 0)
    if row.key.kind is not Kind.LEVEL or row.is_group or now is None or not is_cut:
        return None
    louder = replace(now, level_tenths=now.level_tenths + asked)
    return ear_in(show, row.key.mix, with_setting(show, row.key.mix, row.key.source, louder))


def _lines(show: Show, after: EarAfter | None, asked: EarAfter | None) -> Iterator[str]:
    if after is not None and after.matters_by is not None:
        yield _leads_to(show, after)
    if asked is not None and asked.after_dba is not None:
        yield _as_asked(show, asked, asked.after_dba)


def _leads_to(show: Show, after: EarAfter) -> str:
    level = words.sound_level(after.after_dba or 0.0)
    if after.matters_by == "time" and after.left_h is not None:
        left = words.between_times(after.left_h)
        now = local_time(show.at_ms)
        return _("then about %(level)s, left today at %(now)s: %(time)s", level=level, now=now, time=left)
    return _(
        "then about %(level)s: %(time)s of it may bring the day to the action level, %(action)s over 8 h",
        level=level,
        time=words.duration(EVENING_H),
        action=words.sound_level(action_level(show.settings.exposure_rule).figure),
    )


def _as_asked(show: Show, asked: EarAfter, after_dba: float) -> str:
    level = words.sound_level(after_dba)
    if asked.left_h is None:
        return _("as asked it would be %(level)s", level=level)
    return _(
        "as asked it would be %(level)s, left today at %(now)s: %(time)s",
        level=level,
        now=local_time(show.at_ms),
        time=words.between_times(asked.left_h),
    )
