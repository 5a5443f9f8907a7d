"""What the desk says of the show's band, and what is said about keeping its mixes."""

from monreq.domain import band_commands as b
from monreq.domain.band_events import BandChosen, KeepAnswered, KeepAsked, MixKept
from monreq.domain.band_refusals import NothingToKeep, QuestionReplaced
from monreq.domain.decide_asking import who_asks
from monreq.domain.events import Event
from monreq.domain.show import Show
from monreq.domain.texts import checked_id, clean_name


def choose_band(show: Show, command: b.ChooseBand) -> tuple[Event, ...]:
    """Say which stored band plays; whether it is stored is not the log's to know."""
    band = checked_id(command.band)
    return () if band == show.band else (BandChosen(band),)


def ask_to_keep(show: Show, command: b.AskToKeep) -> tuple[Event, ...]:
    """Ask the musicians of mixes that somebody hears; what was asked before is replaced."""
    heard = [(mix, settings) for mix, settings in dict(command.mixes).items() if show.mix(mix).musicians]
    if not heard:
        raise NothingToKeep
    lowered = dict(command.lowered)
    return tuple(
        KeepAsked(f"q{show.revision + place}", mix, settings, lowered.get(mix, 0))
        for place, (mix, settings) in enumerate(heard, start=1)
    )


def answer_keep(show: Show, command: b.AnswerKeep) -> tuple[Event, ...]:
    """Take a musician's answer; they may change it as long as the question stands."""
    musician = who_asks(show, command.mix, command.musician)
    question = show.keep_questions.get(command.mix)
    if question is None or question.id != command.question:
        raise QuestionReplaced
    if musician in (question.agreed if command.agrees else question.declined):
        return ()
    return (KeepAnswered(question.id, command.mix, musician, command.agrees),)


def note_kept(show: Show, command: b.NoteKept) -> tuple[Event, ...]:
    """Say that mixes were kept."""
    name = clean_name(command.name)
    return tuple(MixKept(show.mix(mix).id, name, command.song) for mix in dict.fromkeys(command.mixes))
