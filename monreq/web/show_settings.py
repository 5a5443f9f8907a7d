"""What the engineer may change for a whole show, on Prepare: amounts, raises, reserve, times, rule."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from flask import Blueprint, request
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.refusals import NotLikeThis
from monreq.domain.setup import Settings
from monreq.domain.show import Show
from monreq.web import typed
from monreq.web.context import web
from monreq.web.exposure_forms import RuleForm, rule_of
from monreq.web.forms import LevelsForm
from monreq.web.preparing import prepared
from monreq.web.speech import N_, _, refusal_said

blueprint = Blueprint("show_settings", __name__, url_prefix="/desk/prepare/settings")


@dataclass(frozen=True, slots=True)
class _Field:
    label: str
    read: Callable[[str], int]
    write: Callable[[int], str]


@dataclass(frozen=True, slots=True)
class FieldView:
    """One setting as it is typed; `name` is that of the setting."""

    name: str
    label: str
    value: str
    unit: str


@dataclass(frozen=True, slots=True)
class GroupView:
    """Settings that belong together, with a sentence on what they do."""

    legend: str
    note: str
    fields: list[FieldView]


def _db(label: str) -> _Field:
    return _Field(label, typed.read_amount, typed.amount)


def _time(label: str) -> _Field:
    return _Field(label, typed.read_time_s, typed.time)


_GROUPS: Mapping[tuple[str, str], Mapping[str, _Field]] = {
    (N_("What phones ask for"), N_("A musician asks for one of three amounts, more or less.")): {
        "touch_tenths": _db(N_("a touch")),
        "some_tenths": _db(N_("some")),
        "lot_tenths": _db(N_("a lot")),
    },
    (N_("Largest raise in one trip"), N_("What monreq suggests at most; you may do more or less.")): {
        "wedge_raise_tenths": _db(N_("wedge")),
        "in_ear_raise_tenths": _db(N_("in-ear pair")),
        "unmeasured_raise_tenths": _db(N_("margin not measured")),
    },
    (
        N_("Louder over the evening"),
        N_(
            "What suggestions add up to at most since the soundcheck mark; beyond it only a typed figure goes."
        ),
    ): {
        "in_ear_evening_tenths": _db(N_("in-ear pair")),
        "wedge_evening_tenths": _db(N_("wedge")),
        "source_evening_tenths": _db(N_("one source")),
    },
    (N_("Feedback"), N_("No suggestion goes into the reserve; it is never under 3 dB.")): {
        "reserve_tenths": _db(N_("margin reserve")),
    },
    (N_("Times"), N_("What the order of work in a gap goes by.")): {
        "song_s": _time(N_("a song lasts")),
        "gap_s": _time(N_("the gap after it")),
    },
}


@blueprint.post("")
def change_settings() -> ResponseReturnValue:
    """Change the settings that were typed over."""
    form = SettingsForm()
    return prepared(form, lambda show: c.ChangeSettings(_typed_over(form, show)), "settings")


class SettingsForm(LevelsForm, RuleForm):
    """The show's settings; the fields of the figures are read by their names."""


def settings_groups(show: Show) -> list[GroupView]:
    """Return the settings as Prepare shows them."""
    return [
        GroupView(_(legend), _(note), [_view(name, field, show.settings) for name, field in fields.items()])
        for (legend, note), fields in _GROUPS.items()
    ]


def _view(name: str, field: _Field, settings: Settings) -> FieldView:
    unit = "dB" if name.endswith("_tenths") else _("min:s")
    return FieldView(name, _(field.label), field.write(getattr(settings, name)), unit)


def _typed_over(form: SettingsForm, show: Show) -> Settings:
    """Return the show's settings with what differs from those that the page showed."""
    seen = web().shows.at(show.id, int(form.seen.data or "")).settings
    fields = {name: field for group in _GROUPS.values() for name, field in group.items()}
    said = {name: _read(field, request.form.get(name, "")) for name, field in fields.items()}
    over: dict[str, Any] = {name: value for name, value in said.items() if value != getattr(seen, name)}
    if rule_of(form) != seen.exposure_rule:
        over["exposure_rule"] = rule_of(form)
    return replace(show.settings, **over)


def _read(field: _Field, text: str) -> int:
    try:
        return field.read(text)
    except NotLikeThis as unreadable:
        label = _(field.label)
        raise type(unreadable)(
            "%(name)s: %(sentence)s", name=label[:1].upper() + label[1:], sentence=refusal_said(unreadable)
        ) from unreadable
