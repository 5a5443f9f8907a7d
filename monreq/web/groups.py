"""Groups on Prepare: sources that are asked for together."""

from collections.abc import Mapping
from dataclasses import dataclass

from flask import Blueprint
from flask.typing import ResponseReturnValue
from wtforms import SelectMultipleField, StringField
from wtforms.validators import Length, Optional

from monreq.domain.group_commands import PutGroup, RemoveGroup
from monreq.domain.group_words import UsualGroup, offered_groups
from monreq.domain.groups import Group
from monreq.domain.show import Show
from monreq.web.forms import ConfirmForm, SentOnceForm
from monreq.web.preparing import prepared
from monreq.web.speech import N_, _

blueprint = Blueprint("groups", __name__, url_prefix="/desk/prepare/groups")

_USUAL: Mapping[UsualGroup, str] = {
    UsualGroup.DRUMS: N_("Drums"),
    UsualGroup.VOICES: N_("Voices"),
    UsualGroup.HORNS: N_("Horns"),
}


class GroupForm(SentOnceForm):
    """A group: its name, its sources, and the send that carries them all, if there is one."""

    name = StringField(validators=[Length(min=1, max=6000)])
    sources = SelectMultipleField(validate_choice=False)
    sub_mix = StringField(validators=[Optional(), Length(max=12)])


@dataclass(frozen=True, slots=True)
class GroupView:
    """A group that could be: its name in the language at hand, its sources by id and in words."""

    id: str
    name: str
    sources: tuple[str, ...]
    names: tuple[str, ...]


@blueprint.post("/<group>")
def put_group(group: str) -> ResponseReturnValue:
    """Add a group, or change one."""
    form = GroupForm()
    return prepared(form, lambda _: PutGroup(_group(group, form)), "groups")


@blueprint.post("/<group>/remove")
def remove_group(group: str) -> ResponseReturnValue:
    """Take a group out; its sources stay."""
    return prepared(ConfirmForm(), lambda _: RemoveGroup(group), "groups")


def offers(show: Show) -> list[GroupView]:
    """Return the groups to offer."""
    return [
        GroupView(usual.value, _(_USUAL[usual]), sources, tuple(show.sources[one].name for one in sources))
        for usual, sources in offered_groups(show).items()
    ]


def _group(group: str, form: GroupForm) -> Group:
    return Group(group, form.name.data or "", tuple(form.sources.data or ()), form.sub_mix.data or None)
