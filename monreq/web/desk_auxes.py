"""The desk's auxes on Prepare: what there is, and the numbers of the aux plan taken over at the press of a button."""

from collections.abc import Callable
from typing import TypeVar

from flask import Blueprint
from flask.typing import ResponseReturnValue
from wtforms import StringField
from wtforms.validators import AnyOf, Length, Optional, Regexp

from monreq.domain import stage_commands as s
from monreq.domain.aux_outputs import Links
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.refusals import NotLikeThis
from monreq.web.forms import SentOnceForm
from monreq.web.preparing import prepared
from monreq.web.speech import N_, _, refusal_said
from monreq.web.typed import read_count, read_numbers

blueprint = Blueprint("desk_auxes", __name__, url_prefix="/desk/prepare/auxes")

Value = TypeVar("Value")

_TYPED = [Optional(), Length(max=60)]


class DeskFactsForm(SentOnceForm):
    """What the desk has; an empty count is none, empty outputs mean that every aux has its own."""

    mono = StringField(N_("Mono auxes"), validators=_TYPED)
    stereo = StringField(N_("Stereo auxes"), validators=_TYPED)
    outputs = StringField(N_("Outputs"), validators=_TYPED)
    links = StringField(validators=[AnyOf(list(Links))])
    taken = StringField(N_("Taken auxes"), validators=_TYPED)
    external_effects = StringField(N_("Effects outside the desk"), validators=_TYPED)
    internal_effects = StringField(N_("Effects inside the desk"), validators=_TYPED)


class NumbersForm(SentOnceForm):
    """The numbers that the page showed: each mix with its auxes, as in `lead:1 drums:9,10 fill:`."""

    numbers = StringField(validators=[Regexp(r"[a-z0-9]{1,12}:[0-9,]*( [a-z0-9]{1,12}:[0-9,]*)*\Z")])


@blueprint.post("/desk")
def describe_desk() -> ResponseReturnValue:
    """Say what the desk has for monitors."""
    form = DeskFactsForm()
    return prepared(form, lambda _: s.DescribeDesk(_facts(form)), "auxes")


@blueprint.post("/numbers")
def take_numbers() -> ResponseReturnValue:
    """Put each mix on the auxes that the page proposed."""
    form = NumbersForm()
    return prepared(form, lambda _: s.NumberAuxes(_numbers(form.numbers.data or "")), "auxes")


def _facts(form: DeskFactsForm) -> DeskFacts:
    return DeskFacts(
        mono=_read(form.mono, read_count),
        stereo=_read(form.stereo, read_count),
        outputs=_read(form.outputs, read_count) if (form.outputs.data or "").strip() else None,
        links=Links(form.links.data or ""),
        taken=_read(form.taken, read_numbers),
        external_effects=_read(form.external_effects, read_count),
        internal_effects=_read(form.internal_effects, read_count),
    )


def _read(field: StringField, read: Callable[[str], Value]) -> Value:
    try:
        return read(field.data or "")
    except NotLikeThis as unreadable:
        raise type(unreadable)(
            "%(name)s: %(sentence)s", name=_(field.label.text), sentence=refusal_said(unreadable)
        ) from unreadable


def _numbers(text: str) -> tuple[tuple[str, tuple[int, ...]], ...]:
    parted = [one.partition(":") for one in text.split()]
    return tuple((mix, read_numbers(numbers)) for mix, _, numbers in parted)
