"""What an ear would get if a row were done as it was asked: said where less is advised, and a level was measured."""

from dataclasses import replace

from monreq.domain.ear_exposure import level_after
from monreq.domain.guard import with_setting
from monreq.domain.queue import Row
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.web import exposure_words
from monreq.web.speech import _


def as_asked(show: Show, row: Row) -> str:
    """Say what the ear would get if all were done that is asked; empty where that is advised, or nobody measured."""
    asked, now = row.asked or 0, row.now
    is_cut = asked > max(0, row.suggestion.move or 0)
    if row.key.kind is not Kind.LEVEL or row.is_group or now is None or not is_cut:
        return ""
    louder = replace(now, level_tenths=now.level_tenths + asked)
    heard = level_after(with_setting(show, row.key.mix, row.key.source, louder), row.key.mix, 0.0)
    if heard is None:
        return ""
    level = exposure_words.sound_level(heard.level_dba)
    if heard.permitted_h is None:
        return _("as asked it would be %(level)s", level=level)
    time = exposure_words.between(heard.permitted_h, exposure_words.duration)
    return _("as asked it would be %(level)s: %(time)s a day", level=level, time=time)
