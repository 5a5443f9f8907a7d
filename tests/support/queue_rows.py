"""What tests read of one row of the queue, and of what was recorded about one request."""

from monreq.domain.events import Recorded
from monreq.domain.queue import Row
from monreq.domain.requests import Kind, RowKey
from monreq.domain.subjects import request_subject, subjects
from monreq.domain.suggest import Suggestion
from tests.support.stage import Stage

VOICE = RowKey("front", "voice", Kind.LEVEL)


def row(stage: Stage, mix: str, source: str | None, kind: Kind = Kind.LEVEL) -> Row:
    found = stage.row(mix, source, kind)
    assert found is not None
    return found


def suggestion(stage: Stage, mix: str = "front") -> Suggestion:
    row = stage.row(mix, "voice")
    assert row is not None
    return row.suggestion


def about(stage: Stage, request: str) -> list[Recorded]:
    return [one for one in stage.log if request_subject(request) in subjects(one.event)]


def take(stage: Stage, found: Row, change: int | None = None) -> str:
    """Answer a row as suggested, or with a figure that was typed; returns the decision's id."""
    return stage.done(*(request.id for request in found.requests), change=change)
