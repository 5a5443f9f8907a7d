"""Finds the tables of the program that are keyed by the members of one enum, or by kinds of events or commands."""

import ast
import importlib
import pkgutil
import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from inspect import getsource
from itertools import product
from types import ModuleType

import monreq
from monreq.domain.commands import Command
from monreq.domain.events import Event

UNIONS: Mapping[str, frozenset[object]] = {
    "Event": frozenset(typing.get_args(Event)),
    "Command": frozenset(typing.get_args(Command)),
}


@dataclass(frozen=True)
class Table:
    """A dict literal.

    Attributes:
        name: Module and name of what it is assigned to, or of the function that it stands in.
        keyed_by: The enum or union that its keys are of; of several for keys that are tuples.
        missing: Members that it has no entry for.
    """

    name: str
    keyed_by: str
    missing: tuple[str, ...]


def tables() -> list[Table]:
    """Return every such table of the program."""
    return [found for module in _modules() for found in tables_in(module, ast.parse(getsource(module)))]


def tables_in(module: ModuleType, tree: ast.AST) -> Iterator[Table]:
    """Give the tables of a module."""
    for name, literal in _named(tree, ""):
        keys = _keys(module, literal)
        axes = _axes(keys)
        if axes is not None:
            short = module.__name__.removeprefix("monreq.")
            yield Table(f"{short}.{name}", " x ".join(of for of, _ in axes), _missing(keys, axes))


def _modules() -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(monreq.__path__, "monreq."):
        # The command line patches the standard library where it is imported.
        if not found.name.startswith("monreq.cli") and "__main__" not in found.name:
            yield importlib.import_module(found.name)


def _named(node: ast.AST, name: str) -> Iterator[tuple[str, ast.Dict]]:
    """Give each dict literal with the name of what is around it."""
    match node:
        case ast.FunctionDef() | ast.ClassDef():
            name = node.name
        case ast.Assign(targets=[ast.Name(id=target)]) | ast.AnnAssign(target=ast.Name(id=target)):
            name = target
        case ast.Dict():
            yield name, node
        case _:
            pass
    for child in ast.iter_child_nodes(node):
        yield from _named(child, name)


def _keys(module: ModuleType, literal: ast.Dict) -> list[object]:
    """Return the keys as the program has them; none where one of them is known only while it runs."""
    keys: list[object] = []
    try:
        for key, value in zip(literal.keys, literal.values, strict=True):
            if key is None:
                keys.extend(_evaluated(module, value))
            else:
                keys.append(_evaluated(module, key))
    except (
        NameError,
        AttributeError,
        TypeError,
        RuntimeError,
    ):  # RuntimeError: of a request that is not there
        return []
    return keys


def _evaluated(module: ModuleType, expression: ast.expr) -> typing.Any:
    if not isinstance(expression, ast.Attribute | ast.Tuple | ast.Name):
        return None
    return eval(ast.unparse(expression), dict(vars(module)))  # noqa: S307 - the program's own names


Axis = tuple[str, frozenset[object]]
"""The name of an enum or union, and its members."""


def _axes(keys: list[object]) -> list[Axis] | None:
    """Return what the keys are of: one enum or union, or one for each place of keys that are tuples."""
    rows = [key if isinstance(key, tuple) else (key,) for key in keys]
    if not rows or len({len(row) for row in rows}) != 1:
        return None
    columns = [_of(column) for column in zip(*rows, strict=True)]
    axes = [one for one in columns if one is not None]
    is_table = len(axes) == len(columns) and any(name != "bool" for name, _ in axes)
    return axes if is_table else None


def _of(column: tuple[object, ...]) -> Axis | None:
    first = type(column[0])
    if all(type(one) is first for one in column):
        if issubclass(first, Enum) and first.__module__.startswith("monreq."):
            return first.__name__, frozenset(first)
        if first is bool:
            return "bool", frozenset((True, False))
    return next(((name, kinds) for name, kinds in UNIONS.items() if kinds.issuperset(column)), None)


def _missing(keys: list[object], axes: list[Axis]) -> tuple[str, ...]:
    wanted = set(product(*(members for _, members in axes)))
    there = {key if isinstance(key, tuple) else (key,) for key in keys}
    return tuple(sorted(", ".join(_called(part) for part in one) for one in wanted - there))


def _called(member: object) -> str:
    return str(getattr(member, "__name__", None) or getattr(member, "name", member))
