"""What a posted form is answered: a script is told in short, a plain form sees its page again."""

from collections.abc import Callable

from flask import flash, jsonify, make_response, redirect, request
from flask.typing import ResponseReturnValue

from monreq.domain.refusals import Refusal, TooFast, UnknownCode
from monreq.web.asked_again import Question
from monreq.web.errors import status_of
from monreq.web.kept_typing import asked_on_page
from monreq.web.pace import RETRY_AFTER_S
from monreq.web.speech import refusal_said


def accepted(page: str, revision: int | None = None) -> ResponseReturnValue:
    """Answer what was taken; a plain form is led to a page by 303, so that loading that again sends nothing.

    Args:
        page: Where a plain form is led to.
        revision: From which on a page shows what came of it, if a script wants to know.
    """
    if _is_script():
        return jsonify(state="taken") if revision is None else jsonify(state="taken", revision=revision), 201
    return redirect(page, 303)


def refused(refusal: Refusal, page: str) -> ResponseReturnValue:
    """Answer what was refused; a plain form reads why on its page."""
    if isinstance(refusal, UnknownCode):
        raise refusal
    if _is_script():
        answer = make_response(jsonify(error=refusal.code, message=refusal_said(refusal)), status_of(refusal))
        if isinstance(refusal, TooFast):
            answer.headers["Retry-After"] = str(RETRY_AFTER_S)
        return answer
    flash(refusal_said(refusal))
    return redirect(page, 303)


def asked_again(
    refusal: Refusal, asked: Question, show_page: Callable[[], ResponseReturnValue]
) -> ResponseReturnValue:
    """Answer what is asked about before it is taken: a plain form sees its page with what was typed still in it."""
    if _is_script():
        answer = jsonify(error=refusal.code, message=asked.sentence, confirms=asked.confirms)
        return answer, status_of(refusal)
    return asked_on_page(asked, show_page)


def _is_script() -> bool:
    return request.accept_mimetypes.best == "application/json"
