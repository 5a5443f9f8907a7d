"""Figures and codes of the domain put into words: the one home of what pages and messages say about them."""

from collections.abc import Mapping

from monreq.domain import suggest
from monreq.domain.decibels import to_db
from monreq.domain.decisions import Decision
from monreq.domain.put_back import SET_SINCE
from monreq.domain.queue import Row
from monreq.domain.removals import REMOVED
from monreq.domain.requests import Call, Kind, moved
from monreq.domain.setup import Mix, Output, Setting, Source, SourceKind, SourceUse, TakenAt
from monreq.domain.show import Show
from monreq.web.sound_answers import SOUND_ANSWERS
from monreq.web.speech import MINUS, N_, _, all_of, decimal, listed

REASONS: Mapping[str, str] = {
    "closer_to_mic": N_("get closer to the mic"),
    "amp_down": N_("turn the amp down, or tilt it up at you"),
    "near_feedback": N_("near feedback"),
    "less_of_another": N_("try less of another source first"),
    "checking_polarity": N_("checking polarity first"),
    "after_this_song": N_("after this song"),
    "loud_enough": N_("gone up enough this evening; ask for less of something else, or come to the desk"),
    "set_by_hand": N_("ask again for more: the desk sets it by hand"),
    "no_time": N_(
        "near a level at which no time is permitted; ask for less of something else, or come to the desk"
    ),
    "it_hurt": N_("near what hurt; ask for less of something else, or come to the desk"),
    "asked_before": N_("it hurt since; ask again if you still want it"),
    "day_full": N_("your ears may have had their day; give them a rest, or come to the desk"),
    "not_rung_out": N_("no further until feedback is checked"),
    "in_steps": N_("one step; ask again if it is still too little"),
    "just_raised": N_("just raised; listen, then ask again"),
    "removed": N_("it was taken out of the show"),
    "set_since": N_("set by hand since"),
}

_SAID = {**REASONS, **SOUND_ANSWERS}
_SAID_BY_ITSELF = {*suggest.REASONS, REMOVED, SET_SINCE} - {suggest.NEAR_FEEDBACK}  # which a person hears too

CHOOSABLE_REASONS: Mapping[str, str] = {
    code: words for code, words in REASONS.items() if code not in _SAID_BY_ITSELF
}

SOUND_WORDS = (N_("muddy"), N_("harsh"), N_("boomy"), N_("hollow"), N_("drier"), N_("wetter"))

CALLS: Mapping[Call, str] = {
    Call.HURTS: N_("HURTS"),
    Call.SQUEAL: N_("SQUEAL"),
    Call.NOTHING: N_("NOTHING"),
    Call.TALK: N_("TALK"),
}

CALLED: Mapping[Call, str] = {
    Call.HURTS: N_("hurts"),
    Call.SQUEAL: N_("squeal"),
    Call.NOTHING: N_("nothing"),
    Call.TALK: N_("talk"),
}

# Where a source comes from, as Prepare lets it be chosen: a direct one that can ring is a choice of its own.
ACOUSTIC_PICKUP = "acoustic_pickup"

SOURCE_KINDS: Mapping[str, str] = {
    SourceKind.OPEN_MIC: N_("open mic"),
    SourceKind.DIRECT: N_("direct"),
    ACOUSTIC_PICKUP: N_("direct, acoustic pickup"),
    SourceKind.RETURN: N_("return"),
}

SOURCE_USES: Mapping[SourceUse, str] = {
    SourceUse.MUSIC: N_("music"),
    SourceUse.CLICK: N_("click"),
    SourceUse.TALKBACK: N_("talkback"),
    SourceUse.AUDIENCE_MIC: N_("audience mic"),
}

OUTPUTS: Mapping[Output, str] = {Output.WEDGE: N_("wedge"), Output.IN_EAR_PAIR: N_("in-ear pair")}

TAKEN_ATS: Mapping[TakenAt, str] = {
    TakenAt.PRE_FADER: N_("before the fader"),
    TakenAt.POST_FADER: N_("after the fader"),
}


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
        return _("middle")
    if percent < 0:
        return _("left %(percent)s", percent=-percent)
    return _("right %(percent)s", percent=percent)


def pan_change(percent: int) -> str:
    """Return a change of pan: 20 to the left, 40 to the right, nothing."""
    if percent == 0:
        return _("no change")
    if percent < 0:
        return _("%(percent)s to the left", percent=-percent)
    return _("%(percent)s to the right", percent=percent)


def change(kind: Kind, amount: int) -> str:
    """Return a change in the unit of its kind."""
    if kind is Kind.PAN:
        return pan_change(amount)
    if kind is Kind.IN_OUT:
        return {1: _("in"), -1: _("out")}.get(amount, _("as it is"))
    return signed(amount)


def standing(kind: Kind, setting: Setting) -> str:
    """Return where a setting stands, in the unit of a kind of row."""
    if kind is Kind.PAN:
        return pan(setting.pan_percent)
    if kind is Kind.IN_OUT:
        return level(setting.level_tenths) if setting.is_on else _("off")
    return level(setting.level_tenths)


def reason(code_or_words: str) -> str:
    """Return a reason in words: that of a code, or what was typed."""
    return _(_SAID[code_or_words]) if code_or_words in _SAID else code_or_words


def share(db: float) -> str:
    """Return how a source stands in its mix: 5 dB under the rest, as loud as the rest."""
    tenths = round(db) * 10
    if tenths == 0:
        return _("as loud as the rest together")
    if tenths > 0:
        return _("%(figure)s dB over the rest together", figure=_figure(tenths))
    return _("%(figure)s dB under the rest together", figure=_figure(-tenths))


def sound(words: str) -> str:
    """Return what is said of a sound: one of the phone's words, or a musician's own as they are."""
    return _(words) if words in SOUND_WORDS else words


def named(name: str, figure: str) -> str:
    """Return a name with its figure: Trumpet +3."""
    return _("%(name)s %(figure)s", name=name, figure=figure)


def rest_change(decision: Decision) -> str:
    """Return how far the rest of a mix went: the most of it, for a send at the end of its range goes less."""
    return signed(min((moved(Kind.LEVEL, move) or 0 for move in decision.also), default=0))


def source_kind(source: Source) -> str:
    """Return which of `SOURCE_KINDS` a source is."""
    is_pickup = source.kind is SourceKind.DIRECT and source.is_acoustic
    return ACOUSTIC_PICKUP if is_pickup else source.kind.value


def mix_kind(mix: Mix) -> str:
    """Return how a mix is heard: wedge, shared wedge, in-ear pair, in-ear pair in mono."""
    return _(_MIX_KINDS[mix.output, len(mix.musicians) > 1, mix.is_fed_mono])


_MIX_KINDS: Mapping[tuple[Output, bool, bool], str] = {
    (Output.WEDGE, False, False): N_("wedge"),
    (Output.WEDGE, True, False): N_("shared wedge"),
    (Output.WEDGE, False, True): N_("wedge, fed mono"),
    (Output.WEDGE, True, True): N_("shared wedge, fed mono"),
    (Output.IN_EAR_PAIR, False, False): N_("in-ear pair"),
    (Output.IN_EAR_PAIR, True, False): N_("shared in-ear pair"),
    (Output.IN_EAR_PAIR, False, True): N_("in-ear pair, fed mono"),
    (Output.IN_EAR_PAIR, True, True): N_("shared in-ear pair, fed mono"),
}
"""How a mix is heard, by its output, whether it is shared, and whether it is fed mono."""


def auxes(mix: Mix) -> str:
    """Return the aux outputs of a mix: aux 3, aux 9 and 10, or nothing."""
    return _("aux %(numbers)s", numbers=all_of(map(str, mix.auxes))) if mix.auxes else ""


def whose(show: Show, row: Row) -> str:
    """Return each musician's own figure: Trumpet +3, Saxophone -1."""
    return listed(
        named(show.musician_name(musician), change(row.key.kind, amount))
        for musician, amount in row.by_musician
    )


def _figure(tenths: int) -> str:
    return decimal(f"{to_db(tenths):.1f}".removesuffix(".0"))
