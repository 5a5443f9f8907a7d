"""Takes a band over into a show: the commands that do it, and the report of all that changes, before it is done."""

from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain import commands as c
from monreq.domain.band import Band, KeptMix
from monreq.domain.carry_choices import Choices, MixChoice, as_kept, chosen_kept, match_band, resolved
from monreq.domain.carry_commands import CarryLevels, DoTogether, NoteMatches
from monreq.domain.carry_conversion import Levels, Task, convert
from monreq.domain.carry_counterparts import counterparts, only_here
from monreq.domain.carry_refusals import SoundcheckIsOver
from monreq.domain.carry_report import CarryReport, MixChange, MixNote
from monreq.domain.carry_sends import send_changes
from monreq.domain.carry_setup import Taking, groups_and_songs, new_auxes, set_up
from monreq.domain.decide import decide
from monreq.domain.events import DESK, Recorded
from monreq.domain.fold import fold
from monreq.domain.setup import Mix
from monreq.domain.show import Show
from monreq.domain.show_aux_plan import plan_show
from monreq.domain.stage_pans import pans_of


@dataclass(frozen=True, slots=True)
class CarryOver:
    """What taking a band over comes to.

    Attributes:
        command: All of it as one: everything is done, or nothing.
        after: The show as it will be then.
    """

    command: DoTogether
    after: Show
    report: CarryReport


def carry_over(band: Band, show: Show, choices: Choices) -> CarryOver:
    """Plan how a band is taken over into a show, without doing anything.

    Raises:
        SoundcheckIsOver: The show's soundcheck mark is set.
        SayWhatItIs, TakenTwice: A line was not answered, or two were answered with the same.
        UnknownKeptMix: A mix is to start from what was not kept of it.
        ReferenceNotThere: Levels are to go by a source that is not on in the mix.
        Refusal: The show refuses what would be added.
    """
    if show.mark is not None:
        raise SoundcheckIsOver
    taking = _taking(band, show, choices)
    commands = [*set_up(taking)]
    commands += new_auxes(taking, _after(show, commands))
    prepared = _after(show, commands)
    changes = []
    for mix in band.mixes:
        if mix.id in taking.mixes:
            change, moved = _mix(taking, prepared, mix)
            changes.append(change)
            commands += moved
    commands += groups_and_songs(taking)
    commands.append(_matches(taking))
    after = _after(show, commands)
    return CarryOver(DoTogether(tuple(commands)), after, _report(taking, after, changes))


def _taking(band: Band, show: Show, choices: Choices) -> Taking:
    return Taking(
        band,
        show,
        choices,
        resolved(choices.sources, [one.id for one in band.sources], show.sources),
        resolved(choices.musicians, [one.id for one in band.musicians], show.musicians),
        resolved(choices.mixes, [one.id for one in band.mixes], show.mixes),
    )


def _matches(taking: Taking) -> NoteMatches:
    band = taking.band
    sources = tuple((one.id, taking.sources.get(one.id, "")) for one in band.sources)
    mixes = tuple((one.id, taking.mixes.get(one.id, "")) for one in band.mixes)
    return NoteMatches(band.id, sources, mixes)


def _after(show: Show, commands: Sequence[c.Command]) -> Show:
    """Return a show as it will be once these are done."""
    events = decide(show, DoTogether(tuple(commands)), show.at_ms)
    first = show.revision + 1
    return fold(
        show, [Recorded(first + place, show.at_ms, DESK, event) for place, event in enumerate(events)]
    )


def _mix(taking: Taking, prepared: Show, known: Mix) -> tuple[MixChange, list[c.Command]]:
    """Return how one mix of the band starts, and the commands that make it start so."""
    kept = chosen_kept(taking.band, known.id, taking.choices)
    mix = prepared.mix(taking.mixes[known.id])
    if kept is None:
        return _nothing_kept(taking, prepared, known, mix), []
    task = _task(taking, prepared, known, kept)
    converted = convert(task, _choice(taking, known).levels)
    settings = ((None, converted.output), *converted.sends.items())
    commands = [*_never_there(taking, prepared, task), CarryLevels(mix.id, settings)]
    return (
        MixChange(
            before=task.before,
            after=mix,
            kept_name=kept.name,
            output_before=kept.output,
            output_after=converted.output,
            shift_tenths=converted.shift_tenths,
            sends=send_changes(taking.band, _after(prepared, commands), task, converted),
            notes=(*converted.notes, *_people(taking, known, mix)),
        ),
        commands,
    )


def _task(taking: Taking, prepared: Show, known: Mix, kept: KeptMix) -> Task:
    sources = {one: prepared.sources[here] for one, here in taking.sources.items()}
    mix = prepared.mix(taking.mixes[known.id])
    pans = pans_of(prepared, mix.id, [sources[one] for one in kept.sends if one in sources])
    return Task(kept, as_kept(kept, known), mix, sources, pans, prepared.settings)


def _choice(taking: Taking, known: Mix) -> MixChoice:
    return taking.choices.mix_choices.get(known.id, MixChoice(levels=Levels()))


def _never_there(taking: Taking, prepared: Show, task: Task) -> list[c.Command]:
    """Return what takes off a mix that is added what the band did not have in it."""
    mix = task.after.id
    if mix in taking.show.mixes:
        return []
    never = {source.id for one, source in task.sources.items() if one not in task.kept.sends}
    return [c.RemoveSend(mix, source.id) for source, _ in prepared.sends_in_order(mix) if source.id in never]


def _nothing_kept(taking: Taking, prepared: Show, known: Mix, mix: Mix) -> MixChange:
    return MixChange(
        before=known,
        after=mix,
        kept_name="",
        output_before=None,
        output_after=prepared.levels[mix.id].output.setting,
        shift_tenths=0,
        sends=(),
        notes=(MixNote.NOTHING_KEPT, *_people(taking, known, mix)),
    )


def _people(taking: Taking, known: Mix, mix: Mix) -> tuple[MixNote, ...]:
    """Say whether somebody who heard a mix is not here."""
    if not mix.musicians:
        return (MixNote.NOBODY_HEARS_IT,)
    return (MixNote.MUSICIAN_MISSING,) if any(one not in taking.musicians for one in known.musicians) else ()


def _report(taking: Taking, after: Show, changes: Sequence[MixChange]) -> CarryReport:
    matchings = match_band(taking.band, taking.show)
    return CarryReport(
        counterparts=counterparts(taking, after, matchings),
        new=only_here(taking),
        mixes=tuple(changes),
        auxes=None if after.desk is None else plan_show(after, after.desk),
        unnumbered=tuple(mix.name for mix in after.mixes.values() if not mix.auxes),
    )
