"""The forms of keeping and of the band: they check shape, the domain checks sense."""

from wtforms import HiddenField, SelectMultipleField, StringField
from wtforms.validators import Length, Optional, Regexp

from monreq.web.forms import SentOnceForm

_TYPED_NAME = [Optional(), Length(max=6000)]


class SeenBandForm(SentOnceForm):
    """Something about a band as the page showed it.

    Attributes:
        seen: The band's revision that the page showed: of two desks one wins.
    """

    seen = HiddenField(validators=[Regexp(r"[0-9]{1,9}\Z")])
    name = StringField(validators=_TYPED_NAME)


class KeepForm(SentOnceForm):
    """What to keep, under which name, for which song; an empty song is the whole show.

    Attributes:
        band: What to call the band, where the show has none yet.
    """

    mixes = SelectMultipleField(validate_choice=False)
    name = StringField(validators=_TYPED_NAME)
    song = StringField(validators=[Optional(), Length(max=12)])
    band = StringField(validators=_TYPED_NAME)


class BroughtBackForm(SentOnceForm):
    """Which of the levels to set are set: every line that was shown, and those ticked.

    A line is a source, its level in tenths, its pan in percent and whether it is on: `voice:-40:0:1`.
    """

    do = StringField(validators=[Regexp(r"(all|ticked)\Z")])
    lines = SelectMultipleField(validate_choice=False)
    ticked = SelectMultipleField(validate_choice=False)
