"""A plugin of pytest that lets Hypothesis draw alike in every run, shrink nothing and remember nothing."""

import pytest
from hypothesis import Phase, settings


def pytest_configure() -> None:
    """Take effect before any file of tests is imported, and after the profile of tests/conftest.py."""
    settings.register_profile(
        "mutants",
        settings.get_profile("unhurried"),
        database=None,
        phases=(Phase.explicit, Phase.generate),
        print_blob=False,
    )
    settings.load_profile("mutants")


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    config.option.hypothesis_seed = config.option.hypothesis_seed or "1"
