"""What the terminal and the system's journal get to read: one plain line each, never a token."""

import logging
import re
from typing import Final, TextIO

_TOKEN: Final = re.compile(r"[a-z0-9]{1,12}(?:-[a-z0-9]{1,12})?\.[A-Za-z0-9_-]{22}(?![A-Za-z0-9_-])")


class RedactingFormatter(logging.Formatter):
    """Blots out tokens, wherever in a message or a traceback they stand."""

    def format(self, record: logging.LogRecord) -> str:
        """Write a record as text."""
        return _TOKEN.sub("[token]", super().format(record))


def set_up_log(stream: TextIO, level: int = logging.WARNING) -> None:
    """Send the whole process's log to a stream.

    Args:
        stream: Where lines go, usually standard error.
        level: The least level that is written.
    """
    handler = logging.StreamHandler(stream)
    handler.setFormatter(RedactingFormatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    logging.basicConfig(level=level, handlers=[handler], force=True)
