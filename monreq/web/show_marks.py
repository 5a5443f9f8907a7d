"""Which show a page is of, and since which restoring of its data: said by everything it sends, looked at before it is done.

A mark is the show's id and the installation's epoch, `frid.0`. Requests, decisions and revisions are counted anew in
each show, and again after a restoring; so an id means something only beside its mark.
"""

from typing import Final

from flask import g, request

from monreq.domain.refusals import NotLikeThis, NotNow, UnknownShow
from monreq.services.ports import StorageFailed
from monreq.services.shows import Shows
from monreq.web.context import web

SHOW: Final = "show"
"""The field of a form, and of an address, that says a mark; an address may say the show's id alone."""

_PAGE: Final = "monreq_show"


class PageOutOfDate(NotLikeThis):
    """This page is out of date. Load it again."""


class ForAnotherShow(NotNow):
    """This was for another show, or for this one before it was restored: it was not taken. Load the page again."""


def is_there(shows: Shows, show_id: str) -> bool:
    """Whether there is such a show, which a restoring may lack; taken for true as long as its log cannot be read."""
    try:
        return bool(shows.seen(show_id).revision or shows.state(show_id).revision)
    except UnknownShow:
        return False
    except StorageFailed:
        return True


def mark_of(show_id: str) -> str:
    """Return a show's mark."""
    return f"{show_id}.{web().epoch}"


def show_of_mark(mark: str) -> str:
    """Return the show that a mark says.

    Raises:
        ForAnotherShow: It is of another epoch.
    """
    show_id, _, epoch = mark.partition(".")
    if epoch != web().epoch:
        raise ForAnotherShow
    return show_id


def named_show() -> str | None:
    """Return the show that what was sent is for; None for a plain address, which means the newest.

    An address that names a show which is gone, as after a restoring, is as good as a plain one.

    Raises:
        PageOutOfDate: A form says none.
        ForAnotherShow: It is of another epoch.
    """
    if request.method == "POST":
        if SHOW not in request.form:
            raise PageOutOfDate
        return show_of_mark(request.form[SHOW])
    said = request.args.get(SHOW)
    if said and "." in said:
        return show_of_mark(said)
    return said if said and is_there(web().shows, said) else None


def page_is_of(show_id: str) -> None:
    """Let the page that is drawn now be of a show."""
    setattr(g, _PAGE, show_id)


def show_of_page() -> str | None:
    """Return the show that the page is of which is drawn now, or answered; None if of none."""
    found: str | None = g.get(_PAGE)
    return found


def mark_of_page() -> str:
    """Return the mark of that show; empty if of none."""
    show_id = show_of_page()
    return mark_of(show_id) if show_id else ""
