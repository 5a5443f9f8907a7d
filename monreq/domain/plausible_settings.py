"""Which settings a show can go by; what cannot be is refused by a sentence that says which."""

from monreq.domain.decibels import to_db
from monreq.domain.decide_asking import LARGEST_CHANGE_TENTHS
from monreq.domain.exposure import rule_named
from monreq.domain.notes import MOST_TEXTS, NOTE_LIMIT
from monreq.domain.refusals import BadSetting, TextTooLong
from monreq.domain.setup import Settings
from monreq.domain.suggest import PAN_LIMIT_PERCENT
from monreq.domain.texts import clean

LEAST_RESERVE_TENTHS = 30  # chosen: see feedback.RESERVE_DB
LOWEST_SCALE_TENTHS, HIGHEST_SCALE_TENTHS = -1500, 300  # chosen: wider than any desk's scale
LONGEST_SONG_S = 3600  # chosen: a set without a gap
LONGEST_GAP_S = 3600  # chosen: an interval, beyond which nobody plans a gap

MOST_EVENING_TENTHS = 200  # chosen: four times as loud, which nobody should suggest in steps

_MOST_EVENING_DB = f"{to_db(MOST_EVENING_TENTHS):.0f}"
_LARGEST_DB = f"{to_db(LARGEST_CHANGE_TENTHS):.0f}"


def check_settings(new: Settings) -> None:
    """Take settings that make sense together.

    Raises:
        BadSetting: One of them does not.
        UnknownRule: Exposure is not reckoned by the rule.
    """
    for makes_sense, sentence in (
        (
            _has_amounts(new),
            f"The three amounts grow from a touch to a lot, above 0 and at most {_LARGEST_DB} dB.",
        ),
        (_has_raises(new), f"The largest raise in one trip goes from 0 to {_LARGEST_DB} dB."),
        (
            _has_evening(new),
            f"What an evening adds up to goes from 0 to {_MOST_EVENING_DB} dB.",
        ),
        (
            _has_reserve(new),
            f"The margin reserve goes from 3 to {_LARGEST_DB} dB: a wedge rings on within about 3 dB.",
        ),
        (
            _has_times(new),
            "A song lasts at most an hour, and so does the gap after it; neither lasts nothing.",
        ),
        (_has_note_texts(new), f"At most {MOST_TEXTS} notes, each a line of at most {NOTE_LIMIT} letters."),
        (_has_scale(new), None),
    ):
        if not makes_sense:
            raise BadSetting(sentence)
    rule_named(new.exposure_rule)


def _has_amounts(new: Settings) -> bool:
    return 0 < new.touch_tenths < new.some_tenths < new.lot_tenths <= LARGEST_CHANGE_TENTHS


def _has_raises(new: Settings) -> bool:
    raises = (new.wedge_raise_tenths, new.in_ear_raise_tenths, new.unmeasured_raise_tenths)
    return all(0 <= one <= LARGEST_CHANGE_TENTHS for one in raises)


def _has_evening(new: Settings) -> bool:
    bounds = (new.in_ear_evening_tenths, new.wedge_evening_tenths, new.source_evening_tenths)
    return all(0 <= one <= MOST_EVENING_TENTHS for one in bounds)


def _has_reserve(new: Settings) -> bool:
    return LEAST_RESERVE_TENTHS <= new.reserve_tenths <= LARGEST_CHANGE_TENTHS


def _has_times(new: Settings) -> bool:
    return 0 < new.song_s <= LONGEST_SONG_S and 0 < new.gap_s <= LONGEST_GAP_S


def _has_note_texts(new: Settings) -> bool:
    return len(new.note_texts) <= MOST_TEXTS and all(map(_is_note, new.note_texts))


def _is_note(text: str) -> bool:
    try:
        return bool(text) and clean(text, NOTE_LIMIT) == text
    except TextTooLong:
        return False


def _has_scale(new: Settings) -> bool:
    return (
        LOWEST_SCALE_TENTHS <= new.lowest_tenths < new.highest_tenths <= HIGHEST_SCALE_TENTHS
        and all(LOWEST_SCALE_TENTHS <= one < 0 for one in (new.hurts_tenths, new.squeal_tenths))
        and 0 < new.pan_step_percent <= PAN_LIMIT_PERCENT
    )
