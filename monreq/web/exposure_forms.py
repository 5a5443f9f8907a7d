"""The forms about exposure: a level at the ear, and the rule of the show."""

import re

from wtforms import BooleanField, StringField
from wtforms.validators import AnyOf, Length, Optional

from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod
from monreq.domain.refusals import NotLikeThis
from monreq.domain.texts import WORDS_LIMIT
from monreq.web.exposure_words import RULES
from monreq.web.figures import UnreadableLevel, read_level
from monreq.web.forms import SentOnceForm

CONVERTED, AS_READ = "converted", "as_read"


class UnreadableEarLevel(NotLikeThis):
    """Type the level at the ear as the instrument showed it, in dB(A), like 94 or 94.5."""


class EarLevelForm(SentOnceForm):
    """A level at the ear, how it was measured, and whether it was converted; another way is said in words."""

    level = StringField(validators=[Length(min=1, max=16)])
    how = StringField(validators=[AnyOf(list(EarMethod))])
    words = StringField(validators=[Optional(), Length(max=WORDS_LIMIT)])
    is_correction = BooleanField()
    field = StringField(validators=[Optional(), AnyOf([CONVERTED, AS_READ])])


class RuleForm(SentOnceForm):
    """By which rule a show's exposure is reckoned."""

    rule = StringField(validators=[AnyOf(list(RULES))])


def read_ear_level(text: str) -> int:
    """Read a level at the ear, with or without its unit. [0.1 dB(A)].

    Raises:
        UnreadableEarLevel: It is none.
        FinerThanTenths: It is finer than a tenth of a dB.
    """
    try:
        return read_level(re.sub(r"(?i)db *\(?a\)?\s*$", "", text))
    except UnreadableLevel as unreadable:
        raise UnreadableEarLevel from unreadable


def rule_of(form: RuleForm) -> RuleName:
    """Return which rule a valid form says."""
    return next(rule for rule in RULES if rule == form.rule.data)


def is_field_level(form: EarLevelForm) -> bool | None:
    """Return whether a valid form says that the figure is the level of a free or diffuse field; None if it says nothing."""
    return {CONVERTED: True, AS_READ: False}.get(form.field.data or "")


def method_of(form: EarLevelForm) -> EarMethod:
    """Return how a valid form says it was measured."""
    return EarMethod(form.how.data or "")
