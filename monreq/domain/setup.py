"""What stands before the first note: sources, musicians, mixes, and a show's settings."""

from dataclasses import dataclass
from enum import StrEnum

from monreq.domain.exposure import RuleName
from monreq.domain.notes import START_TEXTS


class SourceKind(StrEnum):
    """Where a source comes from, which decides whether it can feed back."""

    OPEN_MIC = "open_mic"
    DIRECT = "direct"
    RETURN = "return"


class SourceUse(StrEnum):
    """What a source is for, where that changes how it is treated."""

    MUSIC = "music"
    CLICK = "click"
    TALKBACK = "talkback"
    AUDIENCE_MIC = "audience_mic"


class Output(StrEnum):
    """How a mix reaches its musicians: one aux, or two."""

    WEDGE = "wedge"
    IN_EAR_PAIR = "in_ear_pair"


class TakenAt(StrEnum):
    """Where on the desk a mix's sends are taken, which decides what a house fader does to it."""

    PRE_FADER = "pre_fader"
    POST_FADER = "post_fader"


@dataclass(frozen=True, slots=True)
class Source:
    """A named thing that can be in a mix.

    Attributes:
        trim_tenths: What it contributes beyond its send level, where its channel is not gain-staged like the others.
            [0.1 dB]
        is_acoustic: A pickup in a body that sounds, such as an acoustic guitar's or a double bass's.
    """

    id: str
    name: str
    kind: SourceKind
    is_stereo: bool = False
    use: SourceUse = SourceUse.MUSIC
    trim_tenths: int = 0
    is_acoustic: bool = False

    @property
    def can_ring(self) -> bool:
        """Whether raising it in a wedge can cause feedback: a return may be fed by an open mic, a body sounds with."""
        return self.kind is not SourceKind.DIRECT or self.is_acoustic


@dataclass(frozen=True, slots=True)
class Musician:
    """A chair of the band, and who sits on it: the one who usually does, or a deputy.

    The id stands for the chair, so that a deputy gets the mix, the code and the kept mixes that belong to it.

    Attributes:
        name: Who usually sits there.
        is_lead: A lead singer, whose mix is never shared on monreq's own advice.
        chair: What is played there, such as "Bass"; may be empty.
        deputy: Who sits there in this show instead; empty if nobody does.
    """

    id: str
    name: str
    is_lead: bool = False
    chair: str = ""
    deputy: str = ""

    @property
    def sitting(self) -> str:
        """The name of who sits there in this show."""
        return self.deputy or self.name


@dataclass(frozen=True, slots=True)
class Mix:
    """What one musician, or several who share it, hear: its facts, not its levels.

    Attributes:
        musicians: Ids, in the order in which they were named.
        place: Where on stage, in words; may be empty.
        auxes: Numbers of the desk's aux outputs that carry it, as labelled there; may be empty.
        is_fed_mono: An in-ear pair fed from one output, without left and right.
        taken_at: Where its sends are taken; before the fader is the rule for monitor mixes.
        is_cut_by_mutes: Whether a channel's mute silences its send here; None if nobody said.
        has_limiter: Whether an in-ear pair's pack limits; None if nobody said.
        is_pack_low: Whether an in-ear pair's pack was seen turned low at the start; None if nobody said.
    """

    id: str
    name: str
    output: Output
    musicians: tuple[str, ...]
    place: str = ""
    auxes: tuple[int, ...] = ()
    is_fed_mono: bool = False
    taken_at: TakenAt = TakenAt.PRE_FADER
    is_cut_by_mutes: bool | None = None
    has_limiter: bool | None = None
    is_pack_low: bool | None = None

    @property
    def is_stereo(self) -> bool:
        """Whether it has a left and a right."""
        return self.output is Output.IN_EAR_PAIR and not self.is_fed_mono


@dataclass(frozen=True, slots=True)
class Setting:
    """Where a send or an output stands on the desk.

    Attributes:
        level_tenths: On the desk's own scale; kept while it is off. [0.1 dB]
        pan_percent: -100 left to +100 right, 0 in a mono mix. [%]
        is_on: Whether it is in the mix.
    """

    level_tenths: int
    pan_percent: int = 0
    is_on: bool = True


@dataclass(frozen=True, slots=True)
class Settings:
    """What the engineer may change for a show; all levels in tenths of a dB.

    Attributes:
        touch_tenths, some_tenths, lot_tenths: What the phone's three amounts mean. [0.1 dB]
        wedge_raise_tenths: The most that is suggested upwards in one trip, for a wedge. [0.1 dB]
        in_ear_raise_tenths: The same for an in-ear pair. [0.1 dB]
        unmeasured_raise_tenths: The same where a feedback margin matters and was not measured; and how far a mic may come
            above what is known to have held there, all raises together. [0.1 dB]
        in_ear_evening_tenths, wedge_evening_tenths: The most by which suggestions make a mix louder at the ear since the
            soundcheck mark, or since levels were entered where there is none. [0.1 dB]
        source_evening_tenths: The same for one source. [0.1 dB]
        lowest_tenths, highest_tenths: The ends of the desk's level scale. [0.1 dB]
        hurts_tenths, squeal_tenths: What is suggested for the output at such a call. [0.1 dB]
        reserve_tenths: The part of a feedback margin that no suggestion goes into. [0.1 dB]
        song_s, gap_s: How long a song and the gap after it usually are here; the gap plan goes by them. [s]
        pan_step_percent: What one "left" or "right" means. [%]
        exposure_rule: By which rule allowed listening time is estimated.
        note_texts: What the desk can send to phones with one press.
    """

    touch_tenths: int = 10
    some_tenths: int = 30
    lot_tenths: int = 60
    wedge_raise_tenths: int = 60
    in_ear_raise_tenths: int = 30
    unmeasured_raise_tenths: int = 30
    in_ear_evening_tenths: int = 60  # chosen: a quarter of the allowed time, where 3 dB halve it
    wedge_evening_tenths: int = 100  # chosen: about twice as loud (the sone rule)
    source_evening_tenths: int = 120  # chosen: the largest single request
    lowest_tenths: int = -900  # chosen: below this a send is as good as off
    highest_tenths: int = 100  # common practice, no source: level scales of desks end at +10 dB
    hurts_tenths: int = -60
    squeal_tenths: int = -30
    reserve_tenths: int = 30  # chosen: see feedback.RESERVE_DB
    song_s: int = 240  # chosen: a song of four minutes
    gap_s: int = 30  # chosen: between two songs of one set
    pan_step_percent: int = 20  # chosen: five steps from the middle to the side
    exposure_rule: RuleName = "niosh"  # chosen: its 85 dB(A) and 3 dB are the more careful of the published
    note_texts: tuple[str, ...] = START_TEXTS

    def in_range(self, level_tenths: int) -> int:
        """Return a level, or the end of the desk's scale that it lies beyond. [0.1 dB]."""
        return max(self.lowest_tenths, min(self.highest_tenths, level_tenths))


def suits(mix: Mix, source: Source) -> bool:
    """Whether a source is put on a mix's list by itself: click and audience mics only where nothing leaks."""
    return mix.output is Output.IN_EAR_PAIR or source.use not in (SourceUse.CLICK, SourceUse.AUDIENCE_MIC)
