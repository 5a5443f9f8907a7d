"""What the JSON interface says of the ear of a row's mix."""

from dataclasses import replace

from monreq.domain.ear_after import ear_after
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB
from monreq.domain.queue import Row
from monreq.domain.show import Show
from monreq.web.api_answers import EarAnswer
from monreq.web.api_figures import rounded_or_null
from monreq.web.as_asked import as_asked, ear_lines
from monreq.web.exposure_words import whole_minutes


def ear_answer(show: Show, row: Row, now_ms: int) -> EarAnswer | None:
    """Return what a row's moves lead to at the ear as of now [ms since 1970, UTC]; None where no level was measured."""
    show = replace(show, at_ms=max(show.at_ms, now_ms))
    after, asked = ear_after(show, row), as_asked(show, row)
    if after is None:
        return None
    left = after.left_h
    return EarAnswer(
        level_dba=rounded_or_null(after.level_dba),
        after_dba=rounded_or_null(after.after_dba),
        as_asked_dba=rounded_or_null(asked.after_dba if asked else None),
        off_db=rounded_or_null(TYPED_LEVEL_DB) or 0.0,
        minutes_left=whole_minutes(left.about) if left else None,
        minutes_left_least=whole_minutes(left.low) if left else None,
        minutes_left_most=whole_minutes(left.high) if left else None,
        rule=show.settings.exposure_rule,
        said=list(ear_lines(show, row)),
    )
