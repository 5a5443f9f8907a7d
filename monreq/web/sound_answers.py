"""How a sound request is answered in words: what a hand does about each complaint, ready to be said with one key."""

from collections.abc import Mapping
from typing import Final

from monreq.domain.queue import Row
from monreq.domain.requests import Kind
from monreq.web.speech import N_

SOUND_ANSWERS: Final[Mapping[str, str]] = {
    "low_mids_cut": N_("some low mids taken out"),
    "highs_cut": N_("the highs softened"),
    "lows_cut": N_("some lows taken out"),
    "polarity_turned": N_("polarity turned"),
    "drier": N_("less effect on it"),
    "wetter": N_("more effect on it"),
}
"""By the reason's code that is stored; common practice, no source: what an engineer reaches for first."""

ANSWER_TO: Final[Mapping[str, str]] = {
    "muddy": "low_mids_cut",
    "harsh": "highs_cut",
    "boomy": "lows_cut",
    "hollow": "polarity_turned",
    "drier": "drier",
    "wetter": "wetter",
}
"""The answer's code by the phone's word."""


def answer_ready(row: Row) -> str:
    """Return the code of the answer that fits what was said last in a row; empty where it was in own words."""
    if row.key.kind is not Kind.SOUND:
        return ""
    return ANSWER_TO.get(row.requests[-1].words, "")
