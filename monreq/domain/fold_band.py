"""How events about the show's band and its keeping change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain.band_events import BandChosen, KeepAnswered, KeepAsked, MixKept
from monreq.domain.kept_notes import KeepQuestion, KeptNote
from monreq.domain.show import Show, without


def band_chosen(show: Show, event: BandChosen, _: e.Recorded) -> Show:
    """Keep which band plays."""
    return replace(show, band=event.band)


def keep_asked(show: Show, event: KeepAsked, _: e.Recorded) -> Show:
    """Put a question to a mix in the place of an earlier one."""
    question = KeepQuestion(event.question, event.settings, event.lowered_tenths)
    return replace(show, keep_questions={**show.keep_questions, event.mix: question})


def keep_answered(show: Show, event: KeepAnswered, _: e.Recorded) -> Show:
    """Keep a musician's answer in the place of an earlier one."""
    question = show.keep_questions[event.mix]
    agreed = tuple(one for one in question.agreed if one != event.musician)
    declined = tuple(one for one in question.declined if one != event.musician)
    if event.agrees:
        agreed = (*agreed, event.musician)
    else:
        declined = (*declined, event.musician)
    answered = replace(question, agreed=agreed, declined=declined)
    return replace(show, keep_questions={**show.keep_questions, event.mix: answered})


def mix_kept(show: Show, event: MixKept, recorded: e.Recorded) -> Show:
    """Note what was kept last of a mix."""
    note = KeptNote(event.name, event.song, recorded.at_ms)
    return replace(show, kept_notes={**show.kept_notes, event.mix: note})


def without_mix(show: Show, mix: str) -> Show:
    """Forget what was asked and noted of a mix."""
    return replace(
        show,
        keep_questions=without(show.keep_questions, [mix]),
        kept_notes=without(show.kept_notes, [mix]),
    )
