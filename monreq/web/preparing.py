"""How every form of Prepare is answered: done through the one write path, or refused in a sentence on the page."""

from collections.abc import Callable

from flask import current_app, flash, redirect, url_for
from flask.typing import ResponseReturnValue

from monreq.domain.commands import Command
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.show import Show
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import SentOnceForm
from monreq.web.kept_typing import shown_again
from monreq.web.speech import refusal_said
from monreq.web.submitting import of_form


class FormIncomplete(NotLikeThis):
    """Something is missing there, or not as it should be."""


def prepared(
    form: SentOnceForm,
    command: Callable[[Show], Command],
    part: str,
    said: Callable[[Show, Show], str] = lambda _before, _after: "",
) -> ResponseReturnValue:
    """Do what a form says to the show, and lead back to its part of Prepare, or to what is told of it.

    Args:
        form: What was posted.
        command: What to do, read from the form on the show as it is now; it may refuse what was typed.
        part: The id of the section that the form stands in.
        said: Returns what to tell about it once it is done, by the show before and after; nothing if empty.
    """
    show = desk_show()
    try:
        if not form.validate():
            raise FormIncomplete
        receipt = web().shows.submit(show.id, command(show), of_form(form))
    except Refusal as refusal:
        page = current_app.view_functions["prepare.show_setup"]
        return shown_again(refusal_said(refusal), current_app.ensure_sync(page))
    sentence = said(web().shows.before(receipt), receipt.show)
    if sentence:
        flash(sentence)
    # What is told stands at the head of the page, where it is to be seen.
    return redirect(url_for("prepare.show_setup", _anchor=None if sentence else part), 303)
