"""The history of a mix as the JSON interface answers it: one entry for each thing that changed it."""

from collections.abc import Iterable

from monreq.domain.events import DESK
from monreq.domain.hearing import Heard
from monreq.domain.history import Entry, What
from monreq.domain.show import Show
from monreq.web import api_answers as a
from monreq.web.api_figures import in_db, in_out, in_pan, level_or_null, moment, pan_or_null
from monreq.web.api_moves import moves_answer


def history_answer(show: Show, entries: Iterable[Entry]) -> a.HistoryAnswer:
    """Return entries of a mix's history, named as the show names things now."""
    return a.HistoryAnswer(revision=show.revision, entries=[_entry(show, entry) for entry in entries])


def _entry(show: Show, entry: Entry) -> a.EntryAnswer:
    kind, before, after = entry.kind, entry.before, entry.after
    return a.EntryAnswer(
        revision=entry.revision,
        at=moment(entry.at_ms),
        by=entry.by,
        who=DESK if entry.by == DESK else show.musician_name(entry.by),
        what=entry.what,
        source=entry.source,
        source_name=show.source_name(entry.source),
        kind=kind,
        asked_db=in_db(kind, entry.amount),
        asked_pan=in_pan(kind, entry.amount),
        in_out=in_out(kind, entry.amount),
        words=(entry.words or None) if entry.what is not What.HEARD else None,
        call=entry.call,
        before_db=level_or_null(before),
        after_db=level_or_null(after),
        before_pan=pan_or_null(before.pan_percent) if before else None,
        after_pan=pan_or_null(after.pan_percent) if after else None,
        before_on=before.is_on if before else None,
        after_on=after.is_on if after else None,
        way=entry.way,
        also=moves_answer(show, entry.also),
        heard=Heard(entry.words) if entry.what is What.HEARD else None,
        reason=entry.reason or None,
        requests=list(entry.requests),
        decision=entry.decision,
    )
