"""Refusals and failures turned into answers: one table of statuses, JSON for the interface, a plain page for people."""

from collections.abc import Mapping

from monreq.domain import refusals as r
from monreq.services.ports import StorageFailed
from monreq.web.speech import N_, _, refusal_said

STORAGE_FAILED = "storage_failed"
STORAGE_SENTENCE = N_("The laptop could not store this. Nothing was changed: try again in a moment.")

_STATUSES: Mapping[type[Exception], int] = {
    r.UnknownCode: 401,
    r.NotYours: 403,
    r.NotThere: 404,
    r.NotNow: 409,
    r.NoLonger: 410,
    r.NotLikeThis: 422,
    r.TooMuch: 429,
    StorageFailed: 503,
}


def status_of(error: r.Refusal | StorageFailed) -> int:
    """Return the HTTP status of a refusal: that of its family."""
    for kind in type(error).__mro__:
        if kind in _STATUSES:
            return _STATUSES[kind]
    raise LookupError(f"{type(error).__name__} belongs to no family")


def code_and_sentence(error: r.Refusal | StorageFailed) -> tuple[str, str]:
    """Return what the JSON interface, in English, and the pages, in their language, say about it."""
    if isinstance(error, r.Refusal):
        return error.code, refusal_said(error)
    return STORAGE_FAILED, _(STORAGE_SENTENCE)
