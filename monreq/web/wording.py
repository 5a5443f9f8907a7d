"""Figures and codes of the domain put into words: the one home of what pages and messages say about them."""

from collections.abc import Mapping

from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.decibels import to_db
from monreq.domain.queue import Row
from monreq.domain.requests import Call, Decision, Kind, moved
from monreq.domain.setup import Mix, Output, Setting, SourceKind, SourceUse
from monreq.domain.show import Show

MINUS = "\N{MINUS SIGN}"

REASONS: Mapping[str, str] = {
    "closer_to_mic": "get closer to the mic",
    "amp_down": "turn the amp down, or tilt it up at you",
    "near_feedback": "near feedback",
    "less_of_another": "try less of another source first",
    "checking_polarity": "checking polarity first",
    "after_this_song": "after this song",
    "in_steps": "one step; ask again if it is still too little",
    "removed": "it was taken out of the show",
}

_SAID_BY_ITSELF = ("in_steps", "removed")

CHOOSABLE_REASONS: Mapping[str, str] = {
    code: words for code, words in REASONS.items() if code not in _SAID_BY_ITSELF
}

SOUND_WORDS = ("muddy", "harsh", "boomy", "hollow", "drier", "wetter")

CALLS: Mapping[Call, str] = {
    Call.HURTS: "HURTS",
    Call.SQUEAL: "SQUEAL",
    Call.NOTHING: "NOTHING",
    Call.TALK: "TALK",
}

SOURCE_KINDS: Mapping[SourceKind, str] = {
    SourceKind.OPEN_MIC: "open mic",
    SourceKind.DIRECT: "direct",
    SourceKind.RETURN: "return",
}

SOURCE_USES: Mapping[SourceUse, str] = {
    SourceUse.MUSIC: "music",
    SourceUse.CLICK: "click",
    SourceUse.TALKBACK: "talkback",
    SourceUse.AUDIENCE_MIC: "audience mic",
}

OUTPUTS: Mapping[Output, str] = {Output.WEDGE: "wedge", Output.IN_EAR_PAIR: "in-ear pair"}


def signed(tenths: int) -> str:
    """Return a change in dB as a signed figure: +3, -1.5 with a true minus, 0."""
    sign = "+" if tenths > 0 else MINUS if tenths < 0 else ""
    return sign + _figure(abs(tenths))


def figure(tenths: int) -> str:
    """Return a figure in dB that is no change: 8, -1.5 with a true minus."""
    return (MINUS if tenths < 0 else "") + _figure(abs(tenths))


def level(tenths: int) -> str:
    """Return a level in dB: -11, 0, +2.5, with a true minus."""
    return signed(tenths)


def pan(percent: int) -> str:
    """Return a pan as a hand finds it: middle, left 20, right 100."""
    if percent == 0:
        return "middle"
    return f"{'left' if percent < 0 else 'right'} {abs(percent)}"


def pan_change(percent: int) -> str:
    """Return a change of pan: 20 to the left, 40 to the right, nothing."""
    if percent == 0:
        return "nothing"
    return f"{abs(percent)} to the {'left' if percent < 0 else 'right'}"


def change(kind: Kind, amount: int) -> str:
    """Return a change in the unit of its kind."""
    if kind is Kind.PAN:
        return pan_change(amount)
    if kind is Kind.IN_OUT:
        return {1: "in", -1: "out"}.get(amount, "as it is")
    return signed(amount)


def standing(kind: Kind, setting: Setting) -> str:
    """Return where a setting stands, in the unit of a kind of row."""
    if kind is Kind.PAN:
        return pan(setting.pan_percent)
    if kind is Kind.IN_OUT:
        return level(setting.level_tenths) if setting.is_on else "off"
    return level(setting.level_tenths)


def reason(code_or_words: str) -> str:
    """Return a reason in words: that of a code, or what was typed."""
    return REASONS.get(code_or_words, code_or_words)


def share(db: float) -> str:
    """Return how a source stands in its mix: 5 dB under the rest, as loud as the rest."""
    tenths = round(db) * 10
    if tenths == 0:
        return "as loud as the rest together"
    return f"{_figure(abs(tenths))} dB {'over' if tenths > 0 else 'under'} the rest together"


def rest_change(decision: Decision) -> str:
    """Return how far the rest of a mix went: the most of it, for a send at the end of its range goes less."""
    return signed(min((moved(Kind.LEVEL, move) or 0 for move in decision.also), default=0))


def mix_kind(mix: Mix) -> str:
    """Return how a mix is heard: wedge, shared wedge, in-ear pair, in-ear pair in mono."""
    shared = "shared " if len(mix.musicians) > 1 else ""
    mono = ", fed mono" if mix.is_fed_mono else ""
    return f"{shared}{OUTPUTS[mix.output]}{mono}"


def auxes(mix: Mix) -> str:
    """Return the aux outputs of a mix: aux 3, aux 9 and 10, or nothing."""
    return f"aux {' and '.join(map(str, mix.auxes))}" if mix.auxes else ""


def whose(show: Show, row: Row) -> str:
    """Return each musician's own figure: Trumpet +3, Saxophone -1."""
    return ", ".join(
        f"{show.musician_name(musician)} {change(row.key.kind, amount)}"
        for musician, amount in row.by_musician
    )


_CAUTIONS: Mapping[CautionCode, str] = {
    CautionCode.THEY_DISAGREE: "they disagree: {whose}",
    CautionCode.AT_RESERVE: "margin {margin} dB, reserve {reserve}: no raise",
    CautionCode.MARGIN_SHORT: "margin {margin} dB, reserve {reserve}: at most {bound} in one trip",
    CautionCode.LOW_MARGIN: "margin {margin} dB, reserve {reserve}: at most {bound} in one trip",
    CautionCode.MARGIN_STALE: "feedback margin stale: at most {bound} in one trip",
    CautionCode.MARGIN_NOT_MEASURED: "feedback margin not measured: at most {bound} in one trip",
    CautionCode.PREAMP: "{bound} of it compensates the preamp",
    CautionCode.RAISE_LIMITED: "at most {bound} in one trip",
    CautionCode.SOURCE_IS_OFF: "the source is off in this mix",
    CautionCode.END_OF_RANGE: "the end of the desk's range",
}


def caution(show: Show, row: Row, one: Caution) -> str:
    """Return a caution of a row as a sentence without its full stop."""
    return _CAUTIONS[one.code].format(
        whose=whose(show, row),
        margin=figure(one.margin_tenths or 0),
        reserve=figure(show.settings.reserve_tenths),
        bound=change(row.key.kind, one.figure or 0),
    )


def _figure(tenths: int) -> str:
    return f"{to_db(tenths):.1f}".removesuffix(".0")
