"""What a short typing means: a number, or the beginning of a name."""

import pytest

from monreq.web.typed_names import found

NAMES = ["Kick", "Lead voice", "Lead guitar", "Élan", "Guitar", "夜の道", "Straße"]


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("1", "Kick"),
        ("7", "Straße"),
        ("k", "Kick"),
        ("lead", "Lead voice"),
        ("LEAD G", "Lead guitar"),
        ("guitar", "Guitar"),  # typed whole it goes before "Lead guitar"
        ("gui", "Guitar"),
        ("voice", "Lead voice"),
        ("elan", "Élan"),
        ("夜", "夜の道"),
        ("strasse", "Straße"),
        ("٢", "Lead voice"),  # an Arabic two
        (" lead  v ", "Lead voice"),
    ],
)
def test_short_typing_means(typed: str, name: str) -> None:
    assert found(typed, [(one, one) for one in NAMES]) == name


@pytest.mark.parametrize("typed", ["", "  ", "0", "8", "x", "ick"])
def test_what_begins_nothing_means_nothing(typed: str) -> None:
    assert found(typed, [(one, one) for one in NAMES]) is None
