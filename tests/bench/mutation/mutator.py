"""The small wrongs that could stand in a file of monreq: each changes one thing, in the source as it is written.

Left alone are annotations, texts, decorators, what only type checkers read, and how a thing looks to developers.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from tests.bench.mutation.statements import (
    blocks,
    bound,
    expressions,
    head_end,
    is_empty,
    is_left_alone,
    is_none,
    is_run_once,
)

_COMPARED: Final[dict[type[ast.cmpop], tuple[str, tuple[str, ...]]]] = {
    ast.Lt: (r"<", ("<=", ">=")),
    ast.LtE: (r"<=", ("<", ">")),
    ast.Gt: (r">", (">=", "<=")),
    ast.GtE: (r">=", (">", "<")),
    ast.Eq: (r"==", ("!=",)),
    ast.NotEq: (r"!=", ("==",)),
    ast.Is: (r"\bis\b", ("is not",)),
    ast.IsNot: (r"\bis\s+not\b", ("is",)),
    ast.In: (r"\bin\b", ("not in",)),
    ast.NotIn: (r"\bnot\s+in\b", ("in",)),
}
_RECKONED: Final[dict[type[ast.operator], tuple[str, str]]] = {
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "*"),
    ast.Mod: ("%", "*"),
    ast.BitAnd: ("&", "|"),
}
NOTHING: Final = "return None"
_CALLED: Final = {"min": "max", "max": "min", "any": "all", "all": "any"}
_TYPES: Final = ("cast", "isinstance", "NewType", "TypeVar")


@dataclass(frozen=True)
class Mutant:
    """One wrong in one file: the bytes from start to end are put otherwise."""

    path: str
    function: str
    """Where it is, by the names of the classes and functions around; empty at the top of a file."""
    start: int
    end: int
    put: str
    first_line: int
    last_line: int
    """Of the statement, or of its head where it has a body."""
    names: tuple[str, ...]
    """What it is known by, where it runs as the file is imported or once for all; else empty."""

    def text(self, source: bytes) -> tuple[str, str]:
        """Return the lines that change, as they are and as they are put, without the blanks around."""
        begin = source.rfind(b"\n", 0, self.start) + 1
        stop = source.find(b"\n", self.end)
        rest = source[self.end : stop if stop >= 0 else len(source)].decode()
        head = source[begin : self.start].decode()
        before = head + source[self.start : self.end].decode() + rest
        return " ".join(before.split()), " ".join((head + self.put + rest).split())

    def of(self, source: bytes) -> bytes:
        """Return the file with it."""
        return source[: self.start] + self.put.encode() + source[self.end :]


def mutants(path: str, source: bytes) -> list[Mutant]:
    """Return all of a file, in its order."""
    return sorted(_File(path, source).found(), key=lambda one: (one.start, one.end, one.put))


class _File:
    """One file that is looked through."""

    def __init__(self, path: str, source: bytes) -> None:
        self._path = path
        self._source = source
        self._begins = [0]
        for line in source.splitlines(keepends=True):
            self._begins.append(self._begins[-1] + len(line))

    def found(self) -> Iterator[Mutant]:
        yield from self._block(ast.parse(self._source).body, (), ())

    def _block(
        self, body: list[ast.stmt], where: tuple[str, ...], names: tuple[str, ...]
    ) -> Iterator[Mutant]:
        for statement in body:
            if not is_left_alone(statement):
                yield from self._statement(statement, where, names)

    def _statement(
        self, statement: ast.stmt, where: tuple[str, ...], names: tuple[str, ...]
    ) -> Iterator[Mutant]:
        inner, known, own = where, names, names
        match statement:
            case ast.ClassDef(name=name):
                inner, known = (*where, name), (*names, name)
                own = known
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name):
                inner, known = (*where, name), (name,) if is_run_once(statement) else ()
                own = (name,)  # what stands in its head is made once
        if names or not where:
            own = (*own, *(f".{name}" if names else name for name in bound(statement)))
        for start, end, put in self._changes(statement):
            yield Mutant(
                self._path, ".".join(inner), start, end, put, statement.lineno, head_end(statement), own
            )
        for block in blocks(statement):
            yield from self._block(block, inner, known)

    def _changes(self, statement: ast.stmt) -> Iterator[tuple[int, int, str]]:
        yield from self._removed(statement)
        for expression in expressions(statement):
            yield from self._within(expression)
        test = getattr(statement, "test", None)
        if isinstance(statement, ast.If | ast.While | ast.Assert) and test is not None:
            yield self._negated(test)

    def _removed(self, statement: ast.stmt) -> Iterator[tuple[int, int, str]]:
        start, end = self._span(statement)
        match statement:
            case ast.Return(value=ast.expr() as value) if not is_none(value):
                yield start, end, NOTHING
            case ast.Raise() | ast.Continue() | ast.Break() | ast.Delete() | ast.AugAssign():
                yield start, end, "pass"
            case ast.Expr(value=ast.Call()):
                yield start, end, "pass"
            case ast.Assign(targets=[ast.Attribute() | ast.Subscript()]):
                yield start, end, "pass"

    def _within(self, node: ast.AST) -> Iterator[tuple[int, int, str]]:
        match node:
            case ast.JoinedStr() | ast.keyword(arg="strict"):
                return
            case ast.Call(func=ast.Name(id=name)) if name in _TYPES:
                yield from self._within(node.args[0])
                return
            case ast.Subscript(slice=ast.Constant() as index):
                yield from self._within(node.value)
                yield from self._constant(index, is_index=True)
                return
        yield from self._here(node)
        for inner in ast.iter_child_nodes(node):
            if not isinstance(node, ast.arguments | ast.arg):
                yield from self._within(inner)

    def _here(self, node: ast.AST) -> Iterator[tuple[int, int, str]]:
        match node:
            case ast.Compare():
                yield from self._compared(node)
            case ast.BoolOp():
                yield from self._joined(node)
            case ast.UnaryOp():
                yield from self._unary(node)
            case ast.BinOp():
                yield from self._reckoned(node)
            case ast.Constant():
                yield from self._constant(node)
            case _:
                yield from self._chosen(node)

    def _chosen(self, node: ast.AST) -> Iterator[tuple[int, int, str]]:
        match node:
            case ast.Call(func=ast.Name(id=name) as called) if name in _CALLED:
                yield (*self._span(called), _CALLED[name])
            case ast.IfExp():
                yield self._negated(node.test)
            case ast.comprehension():
                yield from map(self._negated, node.ifs)

    def _compared(self, node: ast.Compare) -> Iterator[tuple[int, int, str]]:
        sides = [node.left, *node.comparators]
        for left, operator, right in zip(sides, node.ops, node.comparators, strict=False):
            pattern, puts = _COMPARED[type(operator)]
            if place := self._between(left, right, pattern):
                for put in puts:
                    yield (*place, put)

    def _joined(self, node: ast.BoolOp) -> Iterator[tuple[int, int, str]]:
        here, there = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for left, right in zip(node.values, node.values[1:], strict=False):
            if place := self._between(left, right, rf"\b{here}\b"):
                yield (*place, there)
        is_default = here == "or" and is_empty(node.values[-1])  # what is there for types alone
        for value in node.values[: len(node.values) - is_default]:
            others = f" {here} ".join(self._bracketed(other) for other in node.values if other is not value)
            yield (*self._span(node), others)

    def _unary(self, node: ast.UnaryOp) -> Iterator[tuple[int, int, str]]:
        start, end = self._span(node)
        inner = self._text(node.operand)
        if isinstance(node.op, ast.Not):
            yield start, end, f"bool({inner})"
        elif isinstance(node.op, ast.USub) and not isinstance(node.operand, ast.Constant):
            yield start, end, f"({inner})"

    def _reckoned(self, node: ast.BinOp) -> Iterator[tuple[int, int, str]]:
        is_text = any(
            isinstance(side, ast.JoinedStr) or isinstance(getattr(side, "value", None), str)
            for side in (node.left, node.right)
        )
        if is_text or type(node.op) not in _RECKONED:
            return
        sign, put = _RECKONED[type(node.op)]
        if place := self._between(node.left, node.right, re.escape(sign)):
            yield (*place, put)

    def _constant(self, node: ast.Constant, *, is_index: bool = False) -> Iterator[tuple[int, int, str]]:
        start, end = self._span(node)
        if isinstance(node.value, bool):
            yield start, end, str(not node.value)
        elif isinstance(node.value, int | float):
            yield start, end, f"({self._text(node)} + 1)"
            if not is_index or node.value:  # the last is often the first
                yield start, end, f"({self._text(node)} - 1)"

    def _bracketed(self, node: ast.expr) -> str:
        is_one = isinstance(node, ast.Name | ast.Constant | ast.Attribute | ast.Call | ast.Subscript)
        return self._text(node) if is_one else f"({self._text(node)})"

    def _negated(self, test: ast.expr) -> tuple[int, int, str]:
        start, end = self._span(test)
        return start, end, f"not ({self._text(test)})"

    def _between(self, left: ast.expr, right: ast.expr, pattern: str) -> tuple[int, int] | None:
        begin, stop = self._span(left)[1], self._span(right)[0]
        found = re.search(pattern.encode(), self._source[begin:stop])
        return (begin + found.start(), begin + found.end()) if found else None

    def _span(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        end_line, end_column = node.end_lineno or node.lineno, node.end_col_offset or 0
        return self._begins[node.lineno - 1] + node.col_offset, self._begins[end_line - 1] + end_column

    def _text(self, node: ast.expr) -> str:
        start, end = self._span(node)
        return self._source[start:end].decode()
