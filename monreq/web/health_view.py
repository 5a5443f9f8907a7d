"""The lines on the desk's page that say what is wrong with the laptop, and what to do about it."""

from collections.abc import Iterable, Mapping
from typing import Final

from monreq.services.health import Notice, Trouble
from monreq.web.places import Place, Places
from monreq.web.speech import N_, _

_FACTS: Final[Mapping[Trouble, tuple[str, ...]]] = {
    Trouble.STORAGE: ("why",),
    Trouble.SLOW: ("took",),
    Trouble.DATABASE_SLOW: ("took",),
    Trouble.REDIS: (),
    Trouble.ADDRESS: ("printed", "present"),
    Trouble.DISK_LOW: ("free",),
    Trouble.COPIES: ("why",),
    Trouble.CLOCK: ("jump",),
}
_SENTENCES: Final[Mapping[Trouble, str]] = {
    Trouble.STORAGE: N_(
        "Nothing can be stored now: %(why)s You see what is known; phones keep what they ask and send it later."
    ),
    Trouble.SLOW: N_(
        "The disk is slow: storing took %(took)s s. Nothing is lost, but answers come late: end what else uses it."
    ),
    Trouble.DATABASE_SLOW: N_(
        "The database answers slowly: storing took %(took)s s. Nothing is lost, but answers come late: see who else uses it."
    ),
    Trouble.REDIS: N_(
        "Redis does not answer: pages of other workers are a second or two late, and who is there is not known. Nothing is lost."
    ),
    Trouble.ADDRESS: N_(
        "Codes point to %(printed)s, this laptop is now %(present)s: set it back to that address, or print the codes again."
    ),
    Trouble.DISK_LOW: N_("Only %(free)s MB are left on the disk: make room."),
    Trouble.COPIES: N_("No copy could be made: %(why)s The show goes on."),
    Trouble.CLOCK: N_(
        "The laptop slept, or its clock was set: %(jump)s s. Ages may be wrong for a while; nothing is lost or out of order."
    ),
}
_NO_ADDRESS: Final = N_(
    "Codes point to %(printed)s, and this laptop is in no network: join the Wi-Fi again, phones then reconnect by themselves."
)
_WHY: Final = (
    N_("The disk is full."),
    N_("The database cannot be written to."),
    N_("The database is busy."),
    N_("The disk reports an error."),
    N_("The database cannot be opened."),
    N_("The database is damaged."),
    N_("The database's file is gone."),
    N_("The database's file was replaced by another."),
    N_("The file beside the database that ends in -wal is gone: stop monreq and start it again."),
    N_("The file beside the database that ends in -wal was replaced: stop monreq and start it again."),
    N_("The database does not answer."),
    N_("The database was put back from a backup meanwhile: stop monreq and start it again."),
    N_("A newer monreq uses this database: install that version here too, and start it again."),
    N_("The disk of the database is full."),
    N_("The connection to the database was lost."),
    N_("The database cannot be reached, or does not let monreq in."),
    N_("The database refused."),
)
"""What the storage says, marked to be translated; a test holds it against the storage's own list."""


def health_places(notices: Iterable[Notice]) -> Places:
    """Return the place of the notices, which stands on the page also while it is empty."""
    return {"health": Place("desk/_health.html", health_lines(notices))}


def health_lines(notices: Iterable[Notice]) -> tuple[str, ...]:
    """Return the sentences alone, for pages that are not live."""
    return tuple(map(_line, notices))


def _line(notice: Notice) -> str:
    facts = dict(zip(_FACTS[notice.trouble], notice.facts, strict=True))
    if notice.trouble is Trouble.ADDRESS and not facts["present"]:
        return _(_NO_ADDRESS, **facts)
    if facts.get("why") in _WHY:
        facts["why"] = _(facts["why"])
    return _(_SENTENCES[notice.trouble], **facts)
