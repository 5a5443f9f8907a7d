"""The single values in a band book: ids, texts, levels, times, as they are written and what is refused of them."""

from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from typing import Annotated, Final

from pydantic import AfterValidator, Field

from monreq.domain.decide_setup import PLACE_LIMIT
from monreq.domain.refusals import Refusal
from monreq.domain.texts import NAME_LIMIT, clean, clean_name

FAR_DB: Final = 200  # chosen: beyond any desk's scale
FAR_M: Final = 1000  # chosen: beyond every stage
_LONGEST_TYPED: Final = 6000  # chosen: as the pages take it; what is left once it is cleaned is much shorter
_TIME: Final = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,3})?Z$"
_TINY: Final = 1e-6

_Number: Final = Field(strict=True, allow_inf_nan=False)
_Flag: Final = Field(strict=True)


def _text(cleaned: Callable[[str], str]) -> AfterValidator:
    def validate(text: str) -> str:
        try:
            return cleaned(text)
        except Refusal as refusal:
            raise ValueError(refusal.sentence) from refusal

    return AfterValidator(validate)


def _in_steps(steps_in_one: int, what: str) -> AfterValidator:
    def validate(figure: float) -> float:
        steps = round(figure * steps_in_one)
        if abs(figure * steps_in_one - steps) > _TINY:
            raise ValueError(what)
        return steps / steps_in_one

    return AfterValidator(validate)


def _real_time(text: str) -> str:
    to_ms(text)
    return text


Id = Annotated[str, Field(pattern=r"^[a-z0-9]{1,12}$")]
Name = Annotated[str, Field(min_length=1, max_length=_LONGEST_TYPED), _text(clean_name)]
Words = Annotated[str, Field(max_length=_LONGEST_TYPED), _text(partial(clean, limit=NAME_LIMIT))]
Place = Annotated[str, Field(max_length=_LONGEST_TYPED), _text(partial(clean, limit=PLACE_LIMIT))]
Flag = Annotated[bool, _Flag]
Db = Annotated[
    float,
    _Number,
    Field(ge=-FAR_DB, le=FAR_DB, description="In whole tenths. [dB]"),
    _in_steps(10, "Levels are in whole tenths of a dB."),
]
Pan = Annotated[
    float,
    _Number,
    Field(ge=-1, le=1, description="-1 left, +1 right, in hundredths."),
    _in_steps(100, "Pans are in whole hundredths."),
]
Metres = Annotated[
    float,
    _Number,
    Field(ge=-FAR_M, le=FAR_M, description="In whole centimetres. [m]"),
    _in_steps(100, "Places are in whole centimetres."),
]
Degrees = Annotated[int, Field(strict=True, ge=0, lt=360)]
Aux = Annotated[int, Field(strict=True, ge=1, le=999)]
Time = Annotated[
    str,
    Field(pattern=_TIME, description="UTC, such as 2026-05-17T21:30:00.000Z."),
    AfterValidator(_real_time),
]


def to_ms(time: str) -> int:
    """Return a written time. [ms since 1970, UTC].

    Raises:
        ValueError: There is no such time.
    """
    since_1970 = datetime.fromisoformat(time) - datetime(1970, 1, 1, tzinfo=UTC)
    return since_1970.days * 86_400_000 + since_1970.seconds * 1000 + since_1970.microseconds // 1000


def from_ms(at_ms: int) -> str:
    """Return a time as it is written."""
    at = datetime.fromtimestamp(at_ms // 1000, UTC)
    return f"{at:%Y-%m-%dT%H:%M:%S}.{at_ms % 1000:03d}Z"
