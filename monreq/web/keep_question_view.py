"""What a phone shows of keeping its mix: the desk's question with the answers to it, and what was kept."""

from dataclasses import dataclass

from monreq.domain.show import Show


@dataclass(frozen=True, slots=True)
class KeepQuestionView:
    """The question, as long as it can be answered, and what became of it.

    Attributes:
        question: Its id; empty if nothing is asked, or not any more.
        is_pressing: Whether somebody did not answer yet, so that it stands in the way until they do.
        agreed, declined: Who answered so, by name; of one alone it is known who is meant.
        is_shared: Whether several hear this mix, so that names are needed.
        kept: The name that the mix was kept under; empty if it was not.
    """

    question: str
    is_pressing: bool
    agreed: tuple[str, ...]
    declined: tuple[str, ...]
    is_shared: bool
    is_open: bool
    kept: str


def keep_question(show: Show, mix: str) -> KeepQuestionView:
    """Return what a mix's phones show of keeping it."""
    question, note = show.keep_questions.get(mix), show.kept_notes.get(mix)
    musicians = show.mix(mix).musicians
    agreed = question.agreed if question else ()
    declined = question.declined if question else ()
    return KeepQuestionView(
        question=question.id if question and show.is_open else "",
        is_pressing=not set(musicians) <= {*agreed, *declined},
        agreed=tuple(map(show.musician_name, agreed)),
        declined=tuple(map(show.musician_name, declined)),
        is_shared=len(musicians) > 1,
        is_open=show.is_open,
        kept=note.name if note else "",
    )
