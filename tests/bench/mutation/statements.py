"""What there is to a statement: whether mutants leave it alone, what it binds, its head, blocks and expressions."""

import ast
from collections.abc import Iterator
from typing import Final

_FOR_DEVELOPERS: Final = ("__repr__", "__str__")
_NEVER: Final = ("assert_never", "N_")


def is_left_alone(statement: ast.stmt) -> bool:
    match statement:
        case ast.FunctionDef(name=name):
            return name in _FOR_DEVELOPERS
        case ast.Expr(value=ast.Call(func=ast.Name(id=name))):
            return name in _NEVER
        case (
            ast.If(test=ast.Name(id="TYPE_CHECKING"))
            | ast.Assign(targets=[ast.Name(id="__all__" | "__slots__")])
            | ast.AnnAssign(annotation=ast.Name(id="TypeAlias"))
            | ast.ClassDef(bases=[ast.Name(id="Protocol")])
        ):
            return True
    return False


def is_run_once(function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    return any("cache" in ast.unparse(one) for one in function.decorator_list)


def bound(statement: ast.stmt) -> tuple[str, ...]:
    match statement:
        case ast.Assign(targets=targets):
            names = [name for one in targets for name in getattr(one, "elts", [one])]
            return tuple(one.id for one in names if isinstance(one, ast.Name))
        case ast.AnnAssign(target=ast.Name(id=name)):
            return (name,)
    return ()


def head_end(statement: ast.stmt) -> int:
    first = min((block[0].lineno for block in blocks(statement) if block), default=None)
    return max(statement.lineno, first - 1) if first else statement.end_lineno or statement.lineno


def blocks(statement: ast.stmt) -> list[list[ast.stmt]]:
    own = [getattr(statement, field, []) for field in ("body", "orelse", "finalbody")]
    inner = [*getattr(statement, "handlers", []), *getattr(statement, "cases", [])]
    return [*own, *(one.body for one in inner)]


def expressions(statement: ast.stmt) -> Iterator[ast.AST]:
    """Return what is reckoned in a statement itself, in a definition only what it takes where nothing is given."""
    if isinstance(statement, ast.FunctionDef | ast.AsyncFunctionDef):
        yield from statement.args.defaults
        yield from (one for one in statement.args.kw_defaults if one is not None)
    elif isinstance(statement, ast.Match):
        yield statement.subject
        yield from (case.guard for case in statement.cases if case.guard is not None)
    elif isinstance(statement, ast.AnnAssign):
        if statement.value is not None:
            yield statement.value
    elif not isinstance(statement, ast.ClassDef | ast.Try):
        for part in ast.iter_child_nodes(statement):
            if isinstance(part, ast.expr | ast.withitem):
                yield part


def is_empty(value: ast.expr) -> bool:
    match value:
        case ast.Constant(value=constant):
            return not constant
        case (
            ast.Tuple(elts=parts)
            | ast.List(elts=parts)
            | ast.Dict(keys=parts)
            | ast.Call(args=parts, keywords=[])
        ):
            return not parts
    return False


def is_none(value: ast.expr) -> bool:
    return isinstance(value, ast.Constant) and value.value is None
