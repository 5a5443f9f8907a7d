"""What is refused to a live connection that may listen, but not now."""

from monreq.domain.refusals import TooMuch


class TooManyPages(TooMuch):
    """So many pages are open with this code that this one only looks every few seconds: close some."""
