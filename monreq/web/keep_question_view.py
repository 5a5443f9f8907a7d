"""What a phone shows of keeping its mix: the desk's question with the answers to it, and what was kept."""

from dataclasses import dataclass

from monreq.domain.show import Show


@dataclass(frozen=True, slots=True)
class KeepQuestionView:
    """The question, as long as it can be answered, and what became of it.

    Attributes:
        question: Its id; empty if nothing is asked, or not any more.
        agreed, declined: Who answered so, by name; of one alone it is known who is meant.
        is_shared: Whether several hear this mix, so that names are needed.
        kept: The name that the mix was kept under; empty if it was not.
    """

    question: str
    agreed: tuple[str, ...]
    declined: tuple[str, ...]
    is_shared: bool
    kept: str


def keep_question(show: Show, mix: str) -> KeepQuestionView:
    """Return what a mix's phones show of keeping it."""
    question, note = show.keep_questions.get(mix), show.kept_notes.get(mix)
    return KeepQuestionView(
        question=question.id if question and show.is_open else "",
        agreed=tuple(map(show.musician_name, question.agreed if question else ())),
        declined=tuple(map(show.musician_name, question.declined if question else ())),
        is_shared=len(show.mix(mix).musicians) > 1,
        kept=note.name if note else "",
    )
