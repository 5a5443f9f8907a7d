"""What tests of the domain start from."""

import pytest

from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    return small_stage()
