"""The texts that the page's script says; the page carries them in its language."""

from collections.abc import Mapping

from monreq.web.speech import N_, unfilled

SCRIPT_TEXTS = (
    N_("live"),
    N_("looks every few seconds"),
    N_("reconnecting"),
    N_("no contact with the desk"),
    N_("no contact with monreq"),
    N_("%(count)s to send"),
    N_("%(state)s: %(waits)s"),
    N_("Not sent yet: %(calls)s. Shout or wave."),
    N_("Desk called: %(calls)s"),
    N_(", "),
    N_("now"),
    N_("%(seconds)s s ago"),
    N_("%(minutes)s min"),
    N_("%(hours)s h %(minutes)s min"),
    N_("%(seconds)s s left"),
    N_("%(seconds)s s over"),
    N_("Load this page again."),
    N_("This was not taken (%(status)s). Load the page again."),
    N_("There was no contact for so long that this was not sent. Ask again if you still want it."),
    N_("Never sent, because it was for another show, or for this one before it was restored: %(what)s."),
    N_("%(what)s: pressed %(minutes)s min ago, no answer came. Is it still right?"),
    N_(
        "%(what)s: pressed %(minutes)s min ago, no answer came. It waits no more: it was answered or taken back."
    ),
    N_("Not sent so far, and for another show: %(what)s. Only that show's page can send it."),
    N_("Taken back, never sent: %(what)s."),
    N_("Being taken back: %(what)s."),
    N_("Taken back: %(what)s."),
    N_("Still on its way: %(what)s. Wait for its answer."),
    N_("%(what)s: this was not taken, so there is nothing to take back."),
    N_("Say first whether what was pressed before is still right."),
    N_("send it"),
    N_("do not send it"),
)


def script_texts() -> Mapping[str, str]:
    """Return what the script says, by its key; the names of values stand in it as they are."""
    return {text: unfilled(text) for text in SCRIPT_TEXTS}
