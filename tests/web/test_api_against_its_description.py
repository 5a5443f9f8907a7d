"""The JSON interface against its own description: drawn calls, right ones and wrong ones, alone and one after another.

What is drawn is the same in every run.
"""

from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test
from schemathesis.core.transport import Response
from schemathesis.generation.stateful.state_machine import APIStateMachine

from monreq.domain import commands as c
from tests.support.stage import small_stage
from tests.support.web_app import Site

pytestmark = pytest.mark.security

site = Site(small_stage())
schema = schemathesis.openapi.from_wsgi("/api/v1/openapi.json", site.app)
unhurried = settings(
    max_examples=20,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)


def bearer(mix: str | None) -> dict[str, str]:
    """Let time pass, so that no call is too fast, and return what a caller shows."""
    site.wait(1)
    return {"Authorization": f"Bearer {site.token(mix)}"}


@schema.parametrize()
@unhurried
def test_whatever_the_desk_calls_is_answered_as_described(case: schemathesis.Case) -> None:
    case.call_and_validate(headers=bearer(None))


@schema.include(path_regex="mix|request|show").parametrize()
@unhurried
def test_whatever_a_mix_calls_is_answered_as_described(case: schemathesis.Case) -> None:
    case.call_and_validate(headers=bearer("front"))


class Evening(APIStateMachine):  # type: ignore[misc]  # published without types
    """Calls that follow one another: what was asked is read, answered, undone, withdrawn."""
