"""The JSON interface against its own description: drawn calls, right ones and wrong ones, alone and one after another.

What is drawn is the same in every run; with --hypothesis-profile=long it is twenty times as much.
"""

from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test
from schemathesis.config import SchemathesisConfig

from tests.support.stage import small_stage
from tests.support.web_app import Site

pytestmark = pytest.mark.security

_CHECKS = {
    # A body of the right shape may still make no sense in this show: that is what 410 and 422 are for.
    "positive_data_acceptance": {
        "expected-statuses": ["2xx", "401", "403", "404", "409", "410", "422", "429"]
    },
    # A request that was taken back is told as such for ever: nothing is deleted.
    "use_after_free": {"enabled": False},
}


class Served:
    """A show that is served, and can begin anew, so that the same calls always meet the same state."""

    def __init__(self) -> None:
        self.site = Site(small_stage())

    def begin_anew(self) -> None:
        self.site = Site(small_stage())

    def __call__(self, environ: Any, start_response: Any) -> Any:
        return self.site.app(environ, start_response)


served = Served()


def described(mix: str | None) -> Any:
    """Return the description, for calls with the token of a mix, or of the desk."""
    config = SchemathesisConfig.from_dict({"checks": _CHECKS})
    schema = schemathesis.openapi.from_wsgi("/api/v1/openapi.json", served, config=config)

    @schema.auth()
    class Bearer:
        def get(self, case: Any, context: Any) -> str:
            del case, context
            served.site.wait(1)  # so that no call is too fast
            return served.site.token(mix)

        def set(self, case: Any, token: str, context: Any) -> None:
            del context
            case.headers = {**(case.headers or {}), "Authorization": f"Bearer {token}"}

    return schema


of_the_desk, of_a_mix = described(None), described("front")

unhurried = settings(
    max_examples=settings().max_examples // 4,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)


@of_the_desk.parametrize()  # type: ignore[untyped-decorator]  # it publishes none
@unhurried
def test_whatever_the_desk_calls_is_answered_as_described(case: Any) -> None:
    case.call_and_validate()


@of_a_mix.parametrize()  # type: ignore[untyped-decorator]  # it publishes none
@unhurried
def test_whatever_a_mix_calls_is_answered_as_described(case: Any) -> None:
    case.call_and_validate()


@pytest.mark.parametrize("schema", [of_the_desk, of_a_mix], ids=["the desk", "a mix"])
def test_whatever_follows_from_an_answer_is_answered_as_described(schema: Any) -> None:
    class Evening(schema.as_state_machine()):  # type: ignore[misc]  # a class that is made at run time
        def setup(self) -> None:
            super().setup()
            served.begin_anew()

    run_state_machine_as_test(Evening, settings=settings(unhurried, stateful_step_count=12))
