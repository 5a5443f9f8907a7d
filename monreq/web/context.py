"""What the pages and the JSON interface work with, and the one place that finds it in the running app."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol, cast

from flask import Flask, current_app

from monreq.services.shows import Shows

_NAME = "monreq"


class InstallationSettings(Protocol):
    """Small facts that belong to the installation, not to a show; kept by the storage."""

    def get(self, name: str) -> str | None:
        """Return a setting, None if it was never put."""

    def put(self, name: str, value: str) -> None:
        """Keep a setting."""


@dataclass(frozen=True, slots=True)
class Web:
    """The app's working parts.

    Attributes:
        key: The secret that codes are derived from.
        codes_url: Returns the address that codes carry, such as `http://192.0.2.7:8330`.
    """

    shows: Shows
    key: bytes
    settings: InstallationSettings
    codes_url: Callable[[], str]


def install(app: Flask, web: Web) -> None:
    """Give an app its working parts."""
    app.extensions[_NAME] = web


def web() -> Web:
    """Return the working parts of the app that is answering."""
    return cast(Web, current_app.extensions[_NAME])
