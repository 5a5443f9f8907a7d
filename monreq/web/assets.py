"""Addresses of what pages load: our own files, and the scripts that the build made."""

import hashlib
import json
from functools import cache
from pathlib import Path

from flask import Flask, url_for

STATIC = Path(__file__).with_name("static")


class AssetsMissing(Exception):  # noqa: N818 - says what is wrong
    """The browser scripts were not built: install monreq again, or run `python3 start.py`."""


@cache
def _version(name: str) -> str:
    return hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:10]


@cache
def _manifest() -> dict[str, str]:
    path = STATIC / "dist" / "manifest.json"
    if not path.is_file():
        raise AssetsMissing(AssetsMissing.__doc__)
    manifest: dict[str, str] = json.loads(path.read_text(encoding="utf-8"))
    return manifest


def asset(name: str) -> str:
    """Return the address of one of our own files; it changes with the content, so that it can be kept for long."""
    return url_for("static", filename=name, v=_version(name))


def built(name: str) -> str:
    """Return the address of a built script."""
    return url_for("static", filename=f"dist/{_manifest()[name]}")


def init_app(app: Flask) -> None:
    """Let templates name assets."""
    app.jinja_env.globals.update(asset=asset, built=built)
