"""Finds the folders that live beside the package in a checkout and inside it once installed."""

from pathlib import Path
from typing import Final

_PACKAGE: Final = Path(__file__).resolve().parent


def templates_dir(package: Path = _PACKAGE) -> Path:
    """Tell where the page templates are.

    Args:
        package: The package's own folder.

    Returns:
        The folder of templates.

    Raises:
        FileNotFoundError: The installation is incomplete.
    """
    return _find("templates", package)


def migrations_dir(package: Path = _PACKAGE) -> Path:
    """Tell where the database migrations are.

    Args:
        package: The package's own folder.

    Returns:
        The folder of migrations.

    Raises:
        FileNotFoundError: The installation is incomplete.
    """
    return _find("migrations", package)


def _find(name: str, package: Path) -> Path:
    for parent in (package, package.parent):
        folder = parent / name
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"monreq's folder {name!r} is missing: install monreq again")
