"""What every test shares: no example is timed, and with MONREQ_TEST_REQUIRE=1 a test that would be skipped fails."""

import math
import os
from collections.abc import Generator

import pytest
from hypothesis import HealthCheck, settings

from monreq.services import storage_watch

# How long an example takes is the machine's affair.
settings.register_profile(
    "unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.register_profile("long", settings.get_profile("unhurried"), max_examples=2000)
settings.load_profile("unhurried")

# Nor how long its disk takes: what is told of a slow one would stand on any page.
storage_watch.SLOW_S = math.inf  # type: ignore[misc]

pytest_plugins = ["pytester", "tests.support.side_by_side"]


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    if report.skipped and not hasattr(report, "wasxfail"):
        _fail_if_required(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    if report.skipped:
        _fail_if_required(report)
    return report


def _fail_if_required(report: pytest.TestReport | pytest.CollectReport) -> None:
    if os.environ.get("MONREQ_TEST_REQUIRE") == "1":
        report.outcome = "failed"
        report.longrepr = f"skipped, though every test has to run: {report.longreprtext}"
