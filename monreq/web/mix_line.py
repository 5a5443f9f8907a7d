"""A mix in the table beside the queue."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from monreq.domain.decibels import to_tenths
from monreq.domain.drifts import drift_db
from monreq.domain.feedback import LOW_MARGIN_DB
from monreq.domain.margins import least_margin_db
from monreq.domain.queue import Row
from monreq.domain.setup import Mix
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.margin_view import margin_text
from monreq.web.mix_cautions import short_cautions
from monreq.web.speech import Language, _, language, listed

LOUD_DRIFT_TENTHS = 30  # a mix that drifted more than 3 dB wants a hand


@dataclass(frozen=True, slots=True)
class MixView:
    """One mix; its number is how a key names it."""

    show: str
    mix: str
    number: int
    name: str
    kind: str
    drift: str
    is_loud: bool
    margin: str
    is_short: bool
    waits: str
    caution: str


@dataclass(frozen=True, slots=True)
class _Stands:
    """How a mix stands, before it is put into words.

    Attributes:
        drift_tenths: Since the soundcheck mark; None where there is nothing to tell it from.
        margin_db: The least of its mics; None where none was measured.
        waiting: How many rows wait.
    """

    show: str
    mix: Mix
    number: int
    drift_tenths: int | None
    margin_db: float | None
    waiting: int
    is_calling: bool
    is_marked: bool


def mix_line(show: Show, mix: str, number: int, rows: Sequence[Row]) -> MixView:
    """Say how a mix stands whose waiting rows are given."""
    drifted = drift_db(show, mix)
    stands = _Stands(
        show=show.id,
        mix=show.mix(mix),
        number=number,
        drift_tenths=None if drifted is None else to_tenths(round(drifted, 1)),
        margin_db=least_margin_db(show, mix),
        waiting=len(rows),
        is_calling=any(row.urgent for row in rows),
        is_marked=mix in (show.mark or {}),
    )
    return _said(stands, language())


@lru_cache(maxsize=1000)  # most mixes stand as they did, whatever changed in one
def _said(stands: _Stands, _language: Language) -> MixView:
    """Put it into the words of the language at hand, which is named since what was said in it is kept."""
    tenths, margin_db = stands.drift_tenths, stands.margin_db
    return MixView(
        show=stands.show,
        mix=stands.mix.id,
        number=stands.number,
        name=stands.mix.name,
        kind=wording.mix_kind(stands.mix),
        drift=_drift_text(stands),
        is_loud=tenths is not None and tenths > LOUD_DRIFT_TENTHS,
        margin="" if margin_db is None else margin_text(margin_db),
        is_short=margin_db is not None and margin_db < LOW_MARGIN_DB,
        waits=_("call") if stands.is_calling else str(stands.waiting),
        caution=listed(short_cautions(stands.mix)),
    )


def _drift_text(stands: _Stands) -> str:
    if stands.drift_tenths is not None:
        return _("%(figure)s dB", figure=wording.signed(stands.drift_tenths))
    return _("silent") if stands.is_marked else _("no mark")
