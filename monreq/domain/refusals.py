"""Everything monreq refuses, as exceptions: the class says which family, its docstring is the sentence a person reads."""

import inspect
import re


# In a sentence `%(name)s` stands for a value and `%%` for a percent sign, because it is a key of the catalogues.
class Refusal(Exception):  # noqa: N818 - a refusal is an answer, not an error of the program
    """This cannot be done."""

    def __init__(self, text: str | None = None, **values: object) -> None:
        self.text, self.values = text or inspect.cleandoc(type(self).__doc__ or ""), values
        super().__init__(self.text % values)

    @property
    def code(self) -> str:
        """The refusal's name in snake case, as the JSON interface gives it."""
        return re.sub(r"(?<!^)(?=[A-Z])", "_", type(self).__name__).lower()

    @property
    def sentence(self) -> str:
        """What to tell a person."""
        return str(self)


class NotThere(Refusal):
    """There is no such thing here."""


class NotLikeThis(Refusal):
    """What was sent does not make sense."""


class NotNow(Refusal):
    """Something else happened first."""


class NoLonger(Refusal):
    """This is over."""


class TooMuch(Refusal):
    """That is too much at once."""


class UnknownShow(NotThere):
    """There is no such show."""


class UnknownMix(NotThere):
    """There is no such mix in this show."""


class UnknownRequest(NotThere):
    """There is no such request."""


class UnknownDecision(NotThere):
    """There is no such decision."""


class UnknownRevision(NotThere):
    """The show has not come that far."""


class UnknownSource(NotLikeThis):
    """There is no such source in this show."""


class UnknownMusician(NotLikeThis):
    """There is no such musician in this mix."""


class MusicianRequired(NotLikeThis):
    """Several musicians share this mix: say who is asking."""


class NobodyInMix(NotLikeThis):
    """Nobody is in this mix: say in Prepare who hears it."""


class SourceNotInMix(NotLikeThis):
    """This source is not in this mix."""


class SourceOff(NotLikeThis):
    """This source is off in this mix: ask for it to be put in first."""


class SourceAlreadyOn(NotLikeThis):
    """This source is in this mix already."""


class SourceRequired(NotLikeThis):
    """Say which source: this cannot be asked of the whole mix."""


class NoPanInMono(NotLikeThis):
    """This mix is mono: it has no left and right."""


class TalkbackNotLess(NotLikeThis):
    """Talkback stays where it is: it is how the desk reaches you. Tell the desk if it is too loud."""


class NoChange(NotLikeThis):
    """A change of nothing is no change."""


class ChangeTooLarge(NotLikeThis):
    """One request can change at most 12 dB."""


class PanOutOfRange(NotLikeThis):
    """Pan goes from -1, left, to +1, right."""


class NotAFigure(NotLikeThis):
    """That is not a number."""


class BeyondBelief(NotLikeThis):
    """Levels and changes go from -120 to +120 dB: check the figure."""


class NoSoundLevel(NotLikeThis):
    """A sound level at the ear goes from 0 to 194 dB(A): check the figure, and that it is not a fader's."""


class TimeOutOfRange(NotLikeThis):
    """A time goes from zero to a week of 168 hours."""


class NothingMeasured(NotLikeThis):
    """Nothing was measured here yet: there is nothing to add up."""


class NothingHeard(NotLikeThis):
    """No sound was heard for any time yet: there is no average."""


class UnknownRule(NotLikeThis):
    """Exposure is reckoned by one of the rules niosh, osha and eu."""


class NoDistance(NotLikeThis):
    """A distance is above zero and at most 10 km."""


class NoPlaceOnStage(NotLikeThis):
    """A place on stage is two figures in metres, each at most 1000 from the middle."""


class AngleOutsideBase(NotLikeThis):
    """The angle has to lie between the two loudspeakers, which stand less than a half circle apart."""


class WidthOutOfRange(NotLikeThis):
    """Width goes from 0, all in the middle, to 1, as wide as the stage."""


class NoOpenMics(NotLikeThis):
    """The number of open mics is a whole number of at least one and at most 1000."""


class NothingInMix(NotLikeThis):
    """Nothing is on in this mix."""


class NothingElseInMix(NotLikeThis):
    """Nothing else is on in this mix: there is no rest to compare with."""


class RestOnlyDown(NotLikeThis):
    """Rest down turns the rest down: say by how much, above zero."""


class AloneTooLoud(NotLikeThis):
    """This source alone would be louder than the whole mix was, with everything else off."""


class FinerThanTenths(NotLikeThis):
    """Levels and changes are whole tenths of a dB."""


class OutsideRange(NotLikeThis):
    """That is outside the range of the desk."""


class NoFigureHere(NotLikeThis):
    """This kind of request is answered in words, without a figure."""


class NotThisWay(NotLikeThis):
    """This row cannot be met that way."""


class NoMarginHere(NotLikeThis):
    """A feedback margin is read for an open mic that is on in a wedge."""


class ReasonRequired(NotLikeThis):
    """Say why it was not done: the musician reads it."""


class WordsRequired(NotLikeThis):
    """Say in words what is wrong with the sound."""


class NameRequired(NotLikeThis):
    """A name is missing."""


class TextTooLong(NotLikeThis):
    """That text is too long."""


class IdTaken(NotLikeThis):
    """This id is used already."""


class BadId(NotLikeThis):
    """An id is 1 to 12 of the letters a to z and the digits."""


class NoRequests(NotLikeThis):
    """Name the requests that this answers."""


class SeveralRows(NotLikeThis):
    """One decision answers the requests of one row."""


class TooManyAuxes(NotLikeThis):
    """A wedge takes one aux output, and so does an in-ear pair fed mono; an in-ear pair takes two."""


class SameIdOtherBody(NotLikeThis):
    """This submission's id was used before for something else."""


class BadSetting(NotLikeThis):
    """This setting is out of its range."""


class AlreadyAnswered(NotNow):
    """No longer waiting: %(requests)s. Nothing was changed."""

    def __init__(self, requests: tuple[str, ...], **values: object) -> None:
        super().__init__(None, requests=", ".join(requests), **values)
        self.requests = requests


class AlreadyUndone(NotNow):
    """This decision was undone already."""


class UndoOutsideRange(NotNow):
    """The level was moved since: taking this back would leave the range of the desk."""


class UndoImpossible(NotNow):
    """The source or the mix was removed or changed since: this cannot be taken back."""


class ShowClosed(NoLonger):
    """This show is closed."""


class UnknownCode(Refusal):
    """This code is not known here. Scan the code on your card again, or ask the engineer."""


class NotYours(Refusal):
    """This is not yours to see or to change."""


class CodeReplacedSince(NoLonger):
    """This code was replaced. Ask the engineer for the new one."""


class TooManyWaiting(TooMuch):
    """You have 50 requests waiting. Withdraw some, or wait for the desk."""


class TooFast(TooMuch):
    """That was too fast. Wait a moment."""
