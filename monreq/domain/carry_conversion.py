"""One kept mix, as it starts in another show: from wedge to in-ear pair and back, on another desk's scale.

A fold to mono keeps every level: under the constant-power law a source has the same power wherever it is panned
(cos^2 + sin^2 = 1), so that one send at the same level carries what both ears had together. A desk that adds left and
right, or pans by another law, differs from that by up to 3 dB. What changes from a wedge to in-ears or back starts as
low as a new mix does, with the balance kept: the two have no scale in common. So does what goes into in-ears again: the
packs of another evening were seen by nobody.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from monreq.domain.band import KeptMix
from monreq.domain.carry_refusals import ReferenceNotThere
from monreq.domain.carry_report import MixNote, SendNote
from monreq.domain.setup import Mix, Output, Setting, Settings, Source, SourceUse, suits
from monreq.domain.starting_low import has_other_output, is_fed_mono_now, low_output, low_shift


@dataclass(frozen=True, slots=True)
class Levels:
    """How a mix's levels are to be taken over.

    Attributes:
        reference: A source of the show and the level that it stands at on the new desk; all sends of the mix follow it.
            [0.1 dB]
        output_tenths: Where the output stands on the new desk; None if nobody said. [0.1 dB]
        takes_click: Whether click goes into this wedge, which was cautioned against.
    """

    reference: tuple[str, int] | None = None
    output_tenths: int | None = None
    takes_click: bool = False


@dataclass(frozen=True, slots=True)
class Task:
    """What is converted.

    Attributes:
        before, after: The mix as it was kept from, and as it is in the show.
        sources: The show's sources, by their ids in the band.
        pans: Where the stage plan has the sources of the show. [%]
        is_same_evening: Whether it was kept in this very show, on the packs that are worn.
    """

    kept: KeptMix
    before: Mix
    after: Mix
    sources: Mapping[str, Source]
    pans: Mapping[str, int]
    settings: Settings
    is_same_evening: bool = False

    @property
    def changes_kind(self) -> bool:
        """Whether a wedge becomes an in-ear pair, or one a wedge."""
        return self.before.output is not self.after.output

    @property
    def starts_low(self) -> bool:
        """Whether nobody knows how loud its levels are at the ear."""
        is_worn_anew = self.after.output is Output.IN_EAR_PAIR and not self.is_same_evening
        return is_worn_anew or has_other_output(self.before, self.after)


@dataclass(frozen=True, slots=True)
class Converted:
    """How a mix starts.

    Attributes:
        sends: By source of the show.
        send_notes: By source of the band: what is to be told of each.
        shift_tenths: By how much all sends moved. [0.1 dB]
    """

    output: Setting
    sends: Mapping[str, Setting]
    send_notes: Mapping[str, tuple[SendNote, ...]]
    shift_tenths: int
    notes: tuple[MixNote, ...]


def convert(task: Task, levels: Levels) -> Converted:
    """Convert one kept mix.

    Raises:
        ReferenceNotThere: The source that levels go by is not on in this mix.
    """
    left_out = _left_out(task, levels)
    placed = {one: _placed(task, one) for one in task.kept.sends if one not in left_out}
    shift = _shift(task, levels, {one: setting for one, (setting, _) in placed.items()})
    sends: dict[str, Setting] = {}
    told: dict[str, tuple[SendNote, ...]] = {one: (note,) for one, note in left_out.items()}
    for known, (setting, notes) in placed.items():
        wanted = setting.level_tenths + shift
        level = task.settings.in_range(wanted)
        clipped = (SendNote.CLIPPED,) if level != wanted else ()
        shifted = (SendNote.SHIFTED,) if shift else ()
        sends[task.sources[known].id] = replace(setting, level_tenths=level)
        told[known] = (*notes, *shifted, *clipped)
    output, output_notes = _output(task, levels)
    mix_notes = (*_changes(task), *_by_what(task, levels), *output_notes, *_cautions(task, sends))
    return Converted(output, sends, told, shift, mix_notes)


def _left_out(task: Task, levels: Levels) -> dict[str, SendNote]:
    left_out = {}
    for known in task.kept.sends:
        source = task.sources.get(known)
        if source is None:
            left_out[known] = SendNote.SOURCE_LEFT_OUT
        elif source.use is SourceUse.CLICK and not suits(task.after, source) and not levels.takes_click:
            left_out[known] = SendNote.CLICK_LEFT_OUT
        elif source.use is SourceUse.AUDIENCE_MIC and not suits(task.after, source):
            left_out[known] = SendNote.AUDIENCE_LEFT_OUT
    return left_out


def _placed(task: Task, known: str) -> tuple[Setting, tuple[SendNote, ...]]:
    """Return a send where it is left or right of, at its old level, and what is to be told of it."""
    setting, source = task.kept.sends[known], task.sources[known]
    if not task.after.is_stereo:
        folds = task.before.is_stereo and (setting.pan_percent or source.is_stereo)
        note = SendNote.STEREO_FOLDED if source.is_stereo else SendNote.FOLDED
        return replace(setting, pan_percent=0), (note,) if folds else ()
    if task.before.is_stereo:
        return setting, ()
    if source.is_stereo:
        return replace(setting, pan_percent=0), ()
    if source.id not in task.pans:
        return replace(setting, pan_percent=0), (SendNote.NO_PLACE,)
    pan = task.pans[source.id]
    return replace(setting, pan_percent=pan), (SendNote.PANNED,) if pan else ()


def _shift(task: Task, levels: Levels, sends: Mapping[str, Setting]) -> int:
    """Return by how much all sends move: by the reference, or down to where a new mix starts. [0.1 dB]."""
    if levels.reference is not None:
        source, level = levels.reference
        on = {task.sources[one].id: setting.level_tenths for one, setting in sends.items() if setting.is_on}
        if source not in on:
            raise ReferenceNotThere
        return level - on[source]
    return low_shift(task.after, sends.values()) if task.starts_low else 0


def _output(task: Task, levels: Levels) -> tuple[Setting, tuple[MixNote, ...]]:
    wanted = _wanted_output(task) if levels.output_tenths is None else levels.output_tenths
    level = task.settings.in_range(wanted)
    notes = {
        MixNote.OUTPUT_AS_READ: levels.output_tenths is not None,
        MixNote.OUTPUT_CLIPPED: level != wanted,
    }
    output = replace(task.kept.output, level_tenths=level, pan_percent=0)
    return output, tuple(note for note, holds in notes.items() if holds)


def _wanted_output(task: Task) -> int:
    """Return where the output starts if nobody read it off the new desk. [0.1 dB]."""
    before = task.kept.output.level_tenths
    return low_output(task.before, task.after, before) if task.starts_low else before


def _changes(task: Task) -> tuple[MixNote, ...]:
    if task.changes_kind:
        became_wedge = task.after.output is Output.WEDGE
        return (MixNote.BECAME_WEDGE if became_wedge else MixNote.BECAME_IN_EARS,)
    if is_fed_mono_now(task.before, task.after):
        return (MixNote.FED_MONO_NOW,)
    return (MixNote.STEREO_NOW,) if task.after.is_stereo and not task.before.is_stereo else ()


def _by_what(task: Task, levels: Levels) -> tuple[MixNote, ...]:
    if levels.reference is not None:
        return (MixNote.BY_REFERENCE,)
    return (MixNote.STARTS_LOW,) if task.starts_low else ()


def _cautions(task: Task, sends: Mapping[str, Setting]) -> tuple[MixNote, ...]:
    """Return what to mind: a margin holds for one room and one wedge, so that none is carried over."""
    on = [one for one in task.sources.values() if one.id in sends and sends[one.id].is_on]
    is_wedge = task.after.output is Output.WEDGE
    cautions = {
        MixNote.MARGIN_NOT_MEASURED: is_wedge and any(one.can_ring for one in on),
        MixNote.CLICK_LEAKS: is_wedge and any(one.use is SourceUse.CLICK for one in on),
        MixNote.LIMITER_NOT_SAID: not is_wedge and task.after.has_limiter is None,
    }
    return tuple(note for note, holds in cautions.items() if holds)
