"""The forms that people send: they check shape and say what a field means; the domain checks sense."""

import unicodedata
from typing import Any

from flask_wtf import FlaskForm
from wtforms import (
    BooleanField,
    HiddenField,
    IntegerField,
    SelectMultipleField,
    StringField,
    SubmitField,
    TextAreaField,
)
from wtforms.validators import AnyOf, InputRequired, Length, Optional, Regexp, ValidationError

from monreq.domain.requests import Amount
from monreq.domain.setup import Output, SourceUse, TakenAt
from monreq.domain.texts import WORDS_LIMIT
from monreq.web.context import web
from monreq.web.show_marks import mark_of_page
from monreq.web.speech import LANGUAGES
from monreq.web.wording import SOURCE_KINDS

_LONGEST_NETWORK_NAME = 32  # IEEE 802.11, the SSID element [bytes]

_YES_OR_NO = AnyOf(["", "yes", "no"])

CLIENT_ID = r"[A-Za-z0-9_-]{1,64}\Z"


class ProtectedForm(FlaskForm):
    """A form with Flask-WTF's token against forgery, which says of which show its page is, where it is of one."""

    show = HiddenField(default=mark_of_page)

    def __init__(self, **values: Any) -> None:
        """Take the fields from the request, or else from the given values; with a `prefix` if given."""
        super().__init__(**values)  # type: ignore[no-untyped-call]  # Flask-WTF publishes no types
        for field in self:
            if isinstance(field, HiddenField):
                field.render_kw = {"id": False}  # a page has many forms, and an id belongs to one element
        if not self.show.data:
            del self.show


def _was_sent(_form: FlaskForm, field: HiddenField) -> None:
    """Take no id that was drawn only now."""
    if not field.raw_data:
        raise ValidationError


class SentOnceForm(ProtectedForm):
    """A form with an id of its own, so that sending it twice does it once."""

    client_id = HiddenField(validators=[_was_sent, Regexp(CLIENT_ID)], default=lambda: web().new_id())


class AskForm(SentOnceForm):
    """Everything a phone asks: the button pressed says what, the amount how much."""

    do = StringField(validators=[Regexp(r"[a-z-]{1,20}:[a-z0-9]{0,12}\Z")])
    amount = StringField(
        validators=[Optional(), Regexp(rf"({'|'.join(Amount)})\Z")], default=Amount.SOME.value
    )
    words = StringField(validators=[Optional(), Length(max=6000)])


class AdmitForm(ProtectedForm):
    """The answer to "You are: Bass. Not you?"."""

    musician = StringField(validators=[Optional(), Length(max=12)])


class PlaceForm(ProtectedForm):
    """Who stands at the stage tablet: a mix, and one of those who hear it."""

    mix = StringField(validators=[Length(min=1, max=12)])
    musician = StringField(validators=[Length(min=1, max=12)])


class LanguageForm(ProtectedForm):
    """A language, and the page to come back to."""

    language = StringField(validators=[AnyOf(list(LANGUAGES))])
    back = HiddenField()


class ShortCodeForm(ProtectedForm):
    """A code typed where a camera fails."""

    code = StringField(validators=[Length(min=1, max=40)])


class PassphraseForm(ProtectedForm):
    """The desk's passphrase; how long it must be is told when it is set."""

    passphrase = StringField(validators=[Length(min=1, max=1000)])


class AnswerForm(FlaskForm):
    """One row's part of the desk's form; its prefix is the row's place.

    Attributes:
        requests: Ids of the requests that the desk was showing, parted by spaces.
        move: The suggested move that the desk was showing, in the unit of the row, or `@` and the level at which a source
            comes in; empty if it showed none.
        against: The same, with the output down against it.
        because: Why that was less than the sum, in a code; empty if it was not.
        raised: What was raised last in a wedge that squeals, and where it goes back to: `voice:-200`, `voice:out`.
        figure: What was done: a change with its sign, or `@` and the level read off; empty is the suggested move.
        said: What was done, in words.
        words: A reason in words.
    """

    class Meta:
        """The token belongs to the form around it, not to each row."""

        csrf = False

    requests = HiddenField(validators=[Length(min=1, max=20_000)])
    move = HiddenField(validators=[Optional(), Regexp(r"^@?-?\d{1,4}$")])
    against = HiddenField(validators=[Optional(), Regexp(r"^\d{1,4}$")])
    because = HiddenField(validators=[Optional(), Length(max=40)])
    raised = HiddenField(validators=[Optional(), Regexp(r"[a-z0-9]{0,12}:(-?\d{1,4}|out)\Z")])
    figure = StringField(validators=[Optional(), Length(max=12)])
    said = StringField(validators=[Optional(), Length(max=WORDS_LIMIT)])
    words = StringField(validators=[Optional(), Length(max=WORDS_LIMIT)])


class SetListForm(SentOnceForm):
    """A set list, a song a line."""

    lines = TextAreaField(validators=[Optional(), Length(max=15_000)])


class DeskForm(SentOnceForm):
    """The desk's form: the button pressed says what is done, and to which row.

    Sent again under its id to take it back, it takes back whatever came of it.
    """

    do = StringField(validators=[Length(min=1, max=80)])
    takes_back = StringField()


class ConfirmForm(SentOnceForm):
    """A button and nothing else."""

    submit = SubmitField()


def _is_written(_form: FlaskForm, field: StringField) -> None:
    """Take no character that is not seen: it would be printed, and turn the lines of other people's screens around."""
    if any(unicodedata.category(one) in ("Cc", "Cf", "Cs", "Zl", "Zp") for one in field.data or ""):
        raise ValidationError


class WifiForm(SentOnceForm):
    """The network that phones join; limits as IEEE 802.11 and WPA passphrases have them."""

    network = StringField(validators=[_is_written])
    password = StringField(validators=[Optional(), Length(min=8, max=63), _is_written])

    def validate_network(self, field: StringField) -> None:
        """Count as the standard does: octets, not letters."""
        if len((field.data or "").encode()) > _LONGEST_NETWORK_NAME:
            raise ValidationError


class LevelsForm(SentOnceForm):
    """A mix's levels as they stand on the desk; the fields of each send are read by their names.

    Attributes:
        seen: The revision that the page showed: only what was typed over is entered.
    """

    seen = HiddenField(validators=[Regexp(r"[1-9][0-9]{0,8}\Z")])


class AskForSomebodyForm(SentOnceForm):
    """A request entered at the desk for a musician without a phone."""

    musician = StringField(validators=[Optional(), Length(max=12)])
    source = StringField(validators=[Optional(), Length(max=12)])
    change = StringField(validators=[Length(min=1, max=12)])


class SourceForm(SentOnceForm):
    """One line of the input list."""

    name = StringField(validators=[Length(min=1, max=6000)])
    kind = StringField(validators=[AnyOf(list(SOURCE_KINDS))])
    use = StringField(validators=[AnyOf(list(SourceUse))])
    is_stereo = BooleanField()
    trim = StringField(validators=[Optional(), Length(max=12)])


class MusicianForm(SentOnceForm):
    """One chair: who usually sits there, what is played, and who sits there in this show instead."""

    name = StringField(validators=[Length(min=1, max=6000)])
    chair = StringField(validators=[Optional(), Length(max=6000)])
    deputy = StringField(validators=[Optional(), Length(max=6000)])
    is_lead = BooleanField()


class MixForm(SentOnceForm):
    """One mix: who hears it, how, and where it goes."""

    name = StringField(validators=[Length(min=1, max=6000)])
    output = StringField(validators=[AnyOf(list(Output))])
    musicians = SelectMultipleField(validate_choice=False)
    place = StringField(validators=[Optional(), Length(max=6000)])
    auxes = StringField(validators=[Optional(), Regexp(r"^\s*\d{1,3}(\s*[, ]\s*\d{1,3})?\s*$")])
    is_fed_mono = BooleanField()
    taken_at = StringField(validators=[AnyOf(list(TakenAt))], default=TakenAt.PRE_FADER.value)
    is_cut_by_mutes = StringField(validators=[_YES_OR_NO], default="")
    has_limiter = StringField(validators=[_YES_OR_NO], default="")
    is_pack_low = StringField(validators=[_YES_OR_NO], default="")


class ShowForm(SentOnceForm):
    """The show's name."""

    name = StringField(validators=[Length(min=1, max=6000)])


class MarginForm(SentOnceForm):
    """A feedback margin as it was read."""

    source = StringField(validators=[Length(min=1, max=12)])
    margin = StringField(validators=[Length(min=1, max=12)])
    open_mics = IntegerField(validators=[InputRequired()])


class StaleForm(SentOnceForm):
    """What changed, so that readings do not hold any more."""

    because = StringField(validators=[Length(min=1, max=WORDS_LIMIT)])


class OpenMicsForm(SentOnceForm):
    """How many mics are open now."""

    open_mics = IntegerField(validators=[InputRequired()])


class PreampForm(SentOnceForm):
    """A planned change of a preamp's gain."""

    source = StringField(validators=[Length(min=1, max=12)])
    change = StringField(validators=[Length(min=1, max=12)])
