"""What a row says of the ear of its mix, where a level was measured: at the desk, and over JSON in the same words.

What the suggested move leads to is said where it matters for the day; what the whole would, where less is advised.
"""

from collections.abc import Iterator
from dataclasses import replace

from monreq.domain.ear_after import EVENING_H, EarAfter, ear_after
from monreq.domain.ear_exposure import LevelAfter, level_after
from monreq.domain.exposure_limits import action_level
from monreq.domain.guard import with_setting
from monreq.domain.queue import Row
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.speech import _


def ear_lines(show: Show, row: Row) -> tuple[str, ...]:
    """Return what a row says of the ear: nothing where it does not matter, or nobody measured."""
    return tuple(_lines(show, ear_after(show, row), as_asked(show, row)))


def as_asked(show: Show, row: Row) -> LevelAfter | None:
    """Return what the ear would get if all were done that is asked; None where that is advised, or nobody measured."""
    asked, now = row.asked or 0, row.now
    is_cut = asked > max(0, row.suggestion.move or 0)
    if row.key.kind is not Kind.LEVEL or row.is_group or now is None or not is_cut:
        return None
    louder = replace(now, level_tenths=now.level_tenths + asked)
    return level_after(with_setting(show, row.key.mix, row.key.source, louder), row.key.mix, 0.0)


def _lines(show: Show, after: EarAfter | None, asked: LevelAfter | None) -> Iterator[str]:
    if after is not None and after.matters_by is not None:
        yield _leads_to(show, after)
    if asked is not None:
        yield _as_asked(asked)


def _leads_to(show: Show, after: EarAfter) -> str:
    level = words.sound_level(after.after_dba or 0.0)
    if after.matters_by == "time" and after.left_h is not None:
        left = words.between_times(after.left_h)
        return _("then about %(level)s, left today: %(time)s", level=level, time=left)
    return _(
        "then about %(level)s: %(time)s of it may bring the day to the action level, %(action)s over 8 h",
        level=level,
        time=words.duration(EVENING_H),
        action=words.sound_level(action_level(show.settings.exposure_rule).figure),
    )


def _as_asked(asked: LevelAfter) -> str:
    level = words.sound_level(asked.level_dba)
    if asked.permitted_h is None:
        return _("as asked it would be %(level)s", level=level)
    return _(
        "as asked it would be %(level)s: %(time)s a day",
        level=level,
        time=words.between_times(asked.permitted_h),
    )
