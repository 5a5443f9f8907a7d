"""What each route of the JSON interface takes, answers and refuses: the facts that its description is made from."""

from collections.abc import Mapping
from dataclasses import dataclass

from pydantic import BaseModel

from monreq.domain import refusals as r
from monreq.domain.group_refusals import LevelOfGroup, OneSourceAtATime
from monreq.domain.hearing_refusals import HeardAlready
from monreq.services.ports import StorageFailed
from monreq.web import api_answers as a
from monreq.web import api_bodies as b
from monreq.web.api_figures import FinerThanHundredths
from monreq.web.api_heard import HeardAnswer, HeardBody
from monreq.web.api_intake import BadBody, TokenRequired

Reasons = tuple[type[r.Refusal | StorageFailed], ...]

_TOKEN: Reasons = (TokenRequired, r.UnknownCode, r.CodeReplacedSince, r.TooFast, StorageFailed)
_DESK: Reasons = (*_TOKEN, r.NotYours)
_STORED: Reasons = (r.ShowClosed,)
_FIGURES: Reasons = (BadBody, r.FinerThanTenths, FinerThanHundredths)


@dataclass(frozen=True, slots=True)
class Operation:
    """One route and method.

    Attributes:
        answers: The model of each status that is not an error.
        refuses: Why it may answer with an error, beside what is wrong with the message itself.
        needs_body: Whether it is always sent; else it says nothing but under which id.
        is_open: Whether it answers without a token.
    """

    summary: str
    answers: Mapping[int, type[BaseModel] | None]
    refuses: Reasons = ()
    body: type[BaseModel] | None = None
    query: type[BaseModel] | None = None
    needs_body: bool = True
    is_open: bool = False


PATH_PARAMETERS: Mapping[str, str] = {
    "mix": "The id of a mix; a mix's token opens its own only.",
    "request_id": "The id of a request.",
    "decision": "The id of a decision.",
}

_ASKING: Reasons = (
    *_DESK,
    *_STORED,
    *_FIGURES,
    r.UnknownMix,
    r.SameIdOtherBody,
    r.UnknownMusician,
    r.MusicianRequired,
    r.SourceNotInMix,
    r.SourceRequired,
    r.SourceOff,
    r.SourceAlreadyOn,
    r.NoChange,
    r.NoPanInMono,
    r.TalkbackNotLess,
    r.WordsRequired,
    r.TextTooLong,
    r.TooManyWaiting,
    OneSourceAtATime,
)
_HEARING: Reasons = (*_ASKING, r.UnknownDecision, HeardAlready)
_DECIDING: Reasons = (
    *_DESK,
    *_STORED,
    *_FIGURES,
    r.UnknownRequest,
    r.AlreadyAnswered,
    r.NoRequests,
    r.SeveralRows,
    r.SameIdOtherBody,
    r.SourceNotInMix,
    r.OutsideRange,
    r.PanOutOfRange,
    r.NoFigureHere,
    LevelOfGroup,
    r.ReasonRequired,
    r.TextTooLong,
)
_UNDOING: Reasons = (
    *_DESK,
    *_STORED,
    BadBody,
    r.SameIdOtherBody,
    r.UnknownDecision,
    r.AlreadyUndone,
    r.UndoOutsideRange,
    r.UndoImpossible,
)
_CORRECTING: Reasons = (
    *_DESK,
    *_STORED,
    *_FIGURES,
    r.UnknownMix,
    r.SameIdOtherBody,
    r.SourceNotInMix,
    r.OutsideRange,
    r.NoPanInMono,
)

OPERATIONS: Mapping[str, Operation] = {
    "get_show": Operation("The show that the token belongs to", {200: a.ShowAnswer}, _TOKEN),
    "get_queue": Operation("The queue in working order, set aside last", {200: a.QueueAnswer}, _DESK),
    "get_mixes": Operation("All mixes; for a mix's token its own", {200: a.MixesAnswer}, _TOKEN),
    "get_mix": Operation("A mix with its sends", {200: a.OneMixAnswer}, (*_DESK, r.UnknownMix)),
    "get_history": Operation(
        "The history of a mix, oldest first",
        {200: a.HistoryAnswer},
        (*_DESK, r.UnknownMix, BadBody),
        query=b.HistoryQuery,
    ),
    "post_request": Operation(
        "Ask for something; 200 is the first answer to the same body under the same client_id",
        {201: a.AskAnswer, 200: a.AskAnswer},
        _ASKING,
        body=b.AskBody,
    ),
    "post_heard": Operation(
        "Say how a change sounds, once; 200 is the first answer to the same body under the same client_id",
        {201: HeardAnswer, 200: HeardAnswer},
        _HEARING,
        body=HeardBody,
    ),
    "get_request": Operation("Where a request stands", {200: a.RequestAnswer}, (*_TOKEN, r.UnknownRequest)),
    "delete_request": Operation(
        "Take a request back; once more by the same token it gets the first answer",
        {200: a.WithdrawnAnswer},
        (*_TOKEN, *_STORED, r.UnknownRequest, r.AlreadyAnswered),
    ),
    "post_decision": Operation(
        "Answer requests of one row; the same body under the same client_id gets the first answer",
        {200: a.DecisionAnswer},
        _DECIDING,
        body=b.DecisionBody,
    ),
    "post_undo": Operation(
        "Take a decision back; under the same client_id again it gets the first answer",
        {200: a.UndoneAnswer},
        _UNDOING,
        body=b.OnceBody,
        needs_body=False,
    ),
    "post_correction": Operation(
        "Enter what stands on the desk", {200: a.StandsAnswer}, _CORRECTING, body=b.CorrectionBody
    ),
    "post_soundcheck_mark": Operation(
        "Set the mark that drift and done are measured from; the same client_id gets the first answer",
        {200: a.MarkAnswer},
        (*_DESK, *_STORED, BadBody, r.SameIdOtherBody),
        body=b.OnceBody,
        needs_body=False,
    ),
    "get_openapi": Operation("This description", {200: None}, is_open=True),
}
"""By the name of the view."""
