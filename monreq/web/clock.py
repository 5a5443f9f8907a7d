"""Times of the log as a person at the desk reads them."""

from datetime import UTC, datetime


def local_time(at_ms: int | None) -> str:
    """Return the time of day where this machine stands, such as 21:04; empty if there is none."""
    if at_ms is None:
        return ""
    return f"{datetime.fromtimestamp(at_ms / 1000, UTC).astimezone():%H:%M}"


def local_day(at_ms: int) -> str:
    """Return the day where this machine stands, such as 2026-05-30."""
    return f"{datetime.fromtimestamp(at_ms / 1000, UTC).astimezone():%Y-%m-%d}"
