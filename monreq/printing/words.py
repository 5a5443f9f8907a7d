"""What a page says in the language at hand, apart from how it is drawn, so that it can be said without loading what draws."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reading:
    """How a page is read."""

    language: str = "en"
    """Its code, as in BCP 47."""
    from_right: bool = False
    """Whether lines run from right to left: then its columns do too."""
    comma: str = ", "
    """What stands between two things of a list."""


@dataclass(frozen=True, slots=True)
class CardWords:
    """What stands on every card."""

    title: str
    """Of the file."""
    join: str
    open: str
    network: str
    password: str
    no_password: str
    ask_for_wifi: str
    type_address: str
    type_code: str
    scan_both: str
    scan_second: str
    phone_lines: tuple[str, ...]
    """What to do where a phone balks."""
    caution_title: str
    caution: str


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What stands on the sheets of a show, beside its own names."""

    title: str
    """Of the file."""
    stage_plan: str
    audience: str
    """What stands before the stage's front edge."""
