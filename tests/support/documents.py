"""Reads the documents as a stranger would: which paths, commands, settings and links they name."""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import click

from monreq.cli.commands import cli
from tests.support.serving import ROOT

_LINK = re.compile(r"\]\(([^)\s]+)\)|src=\"([^\"]+)\"")
_SPAN = re.compile(r"`([^`\n]+)`")
_FENCE = re.compile(r"^```[^\n]*\n(.*?)^```", re.MULTILINE | re.DOTALL)
_PATH = re.compile(
    r"(?:[\w.@-]+/)*[\w.@-]+\.(?:py|md|css|js|mjs|json|toml|html|yaml|conf|service|svg|png)|(?:[\w.@-]+/)+"
)
_COMMAND = re.compile(r"(?:^|\$\(|/bin/)(?:monreq|python3 start\.py) ([a-z][a-z-]*)([^\n]*)")
_OPTION = re.compile(r"(?<![\w-])--[a-z][a-z-]*")
_HEADING = re.compile(r"^#+ (.+)$", re.MULTILINE)


def links_in(text: str) -> list[str]:
    """Return where links and pictures lead."""
    return [one or other for one, other in _LINK.findall(text)]


def code_in(text: str) -> list[str]:
    """Return what is set as code: spans, and the lines of fenced blocks."""
    lines = [line for block in _FENCE.findall(text) for line in block.splitlines()]
    return [*_SPAN.findall(_FENCE.sub("", text)), *lines]


def paths_in(text: str) -> set[str]:
    """Return the paths of the project that spans of code name."""
    spans = _SPAN.findall(_FENCE.sub("", text))
    return {span for span in spans if _PATH.fullmatch(span)}


def commands_in(text: str) -> list[tuple[str, list[str]]]:
    """Return the subcommands that code calls, each with the options given to it."""
    return [(name, _OPTION.findall(rest)) for code in code_in(text) for name, rest in _COMMAND.findall(code)]


def options_in(text: str) -> set[str]:
    """Return the options that stand alone as code."""
    return {
        option for span in _SPAN.findall(text) if span.startswith("--") for option in _OPTION.findall(span)
    }


def anchors_in(text: str) -> set[str]:
    """Return the anchors that headings get."""
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in _HEADING.findall(text)}


def commands_in_code() -> dict[str, set[str]]:
    """Return every subcommand with its options."""
    return {name: _options(command) for name, command in cli.commands.items()}


def settings_in_code() -> set[str]:
    """Return the names that config.py reads from the environment."""
    tree = ast.parse((ROOT / "monreq" / "config.py").read_text(encoding="utf-8"))
    readers = {"_text", "_names", "_flag"}
    return {
        f"MONREQ_{call.args[1].value}"
        for call in ast.walk(tree)
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in readers
        and isinstance(call.args[1], ast.Constant)
        and isinstance(call.args[1].value, str)
    }


@dataclass(frozen=True)
class Measured:
    """A module or function and its lines."""

    name: str
    lines: int


def modules(*folders: str) -> Iterator[tuple[Path, ast.Module, int]]:
    """Give every module of some folders, or else of the package and its migrations, with its number of lines."""
    for folder in folders or ("monreq", "migrations"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            if "node_modules" not in path.parts:
                source = path.read_text(encoding="utf-8")
                yield path, ast.parse(source), len(source.splitlines())


def functions() -> list[Measured]:
    """Measure every function and method, from its def to its last line."""
    return [
        Measured(f"{path.relative_to(ROOT)}:{node.name}", (node.end_lineno or 0) - node.lineno + 1)
        for path, tree, _ in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]


def docstring(module: ast.Module) -> str:
    """Return what a module says of itself."""
    return ast.get_docstring(module) or ""


def _options(command: click.Command) -> set[str]:
    """Return the options of a command, or those of all that stand under it."""
    under = command.commands.values() if isinstance(command, click.Group) else ()
    own = {name for parameter in command.params for name in parameter.opts if name.startswith("--")}
    return own.union({"--help"}, *map(_options, under))
