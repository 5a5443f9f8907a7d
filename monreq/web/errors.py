"""Refusals and failures turned into answers: one table of statuses, JSON for the interface, a plain page for people."""

from collections.abc import Mapping

from monreq.domain import refusals as r
from monreq.services.ports import StorageFailed
from monreq.web.speech import N_, _, refusal_said

STORAGE_FAILED = "storage_failed"
STORAGE_SENTENCE = N_("The laptop could not store this. Nothing was changed: try again in a moment.")

_AT_A_PAGE: Mapping[int, tuple[str, str]] = {
    400: (
        N_("Not understood"),
        N_("What the browser sent could not be read. Go back, load the page again, and repeat."),
    ),
    404: (N_("Not here"), N_("There is no page at this address.")),
    405: (
        N_("Not this way"),
        N_("This address cannot be used like this. Go back and use what stands on the page."),
    ),
    413: (
        N_("Too much at once"),
        N_("What was sent is larger than monreq takes."),
    ),
    500: (
        N_("monreq failed at this"),
        N_("Go back, load the page again, and look whether it was done before you repeat it."),
    ),
}
_ELSE = N_("That did not work"), N_("Go back, load the page again, and repeat.")

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


def title_and_sentence(status: int) -> tuple[str, str]:
    """Return what a page says where the web framework answers an HTTP status, not monreq's own rules."""
    title, sentence = _AT_A_PAGE.get(status, _ELSE)
    return _(title), _(sentence)
