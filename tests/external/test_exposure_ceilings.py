"""Levels that a rule permits for no time at all, against its published table."""

import pytest

from monreq.domain.exposure import RuleName, allowed_hours
from monreq.domain.exposure_limits import hours_permitted, is_above_ceiling

pytestmark = pytest.mark.external


@pytest.mark.parametrize("level", [115.1, 116, 120, 140])
def test_no_time_is_permitted_beyond_oshas_legal_table(level: float) -> None:
    """Source: 29 CFR 1910.95 Table G-16, whose last row is 115 dB(A) for a quarter of an hour or less."""
    assert hours_permitted(level, "osha") == 0
    assert allowed_hours(level, "osha") > 0
    assert is_above_ceiling(level, "osha")
    assert not is_above_ceiling(115, "osha")


@pytest.mark.parametrize("rule", ["niosh", "eu"])
def test_other_rules_name_no_steady_ceiling_that_was_read(rule: RuleName) -> None:
    """Source: none was read; NIOSH's 140 dB(A) is told from memory and decides nothing."""
    assert hours_permitted(120, rule) == allowed_hours(120, rule)
