"""
Small faults to put into a file of the rules, one at a time: `<` for `<=`, `or` for `and`, 2 for 1.

What can make no difference to a figure is left alone: annotations, docstrings, the words of a
refusal, the switches of dataclasses, caches and zips.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass

OTHER_COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
OTHER_SUM: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Add,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
OTHER_NAME = {"min": "max", "max": "min", "any": "all", "all": "any"}
# Keywords that say how a thing is kept or checked, not what it is.
SWITCHES = {"frozen", "slots", "order", "compare", "repr", "strict", "maxsize", "default_factory"}

Change = Callable[[ast.AST], ast.AST]


@dataclass(frozen=True, slots=True)
class Mutation:
    """One fault: where it goes in, and what it does there."""

    number: int  # of its node, in the order the tree is walked
    line: int
    last_line: int
    running: bool  # in a function's body, not where a file is only loaded
    words: str
    change: Change


def mutations(source: str) -> list[Mutation]:
    """Every fault that can be put into *source*, in its own order."""
    tree = ast.parse(source)
    return list(_walk(tree, _numbered(tree), running=False))


def mutated(source: str, mutation: Mutation) -> ast.Module:
    """The tree of *source* with one *mutation* in it."""
    tree = ast.parse(source)
    wanted = next(node for node, number in _numbered(tree).items() if number == mutation.number)

    class _Put(ast.NodeTransformer):
        def visit(self, node: ast.AST) -> ast.AST:
            return mutation.change(node) if node is wanted else self.generic_visit(node)

    changed = _Put().visit(tree)
    return ast.fix_missing_locations(changed)


def _numbered(tree: ast.AST) -> dict[ast.AST, int]:
    return {node: number for number, node in enumerate(ast.walk(tree))}


def _walk(node: ast.AST, numbers: dict[ast.AST, int], *, running: bool) -> Iterator[Mutation]:
    """The faults of *node* and what is in it; *running*, where it is in a function's body."""
    if _makes_no_difference(node):
        return
    if isinstance(node, ast.FunctionDef):
        # Defaults are worked out where the function is made, not in it.
        yield from _walk(node.args, numbers, running=running)
        for part in node.body:
            yield from _walk(part, numbers, running=True)
        return
    if isinstance(node, ast.ClassDef):
        for part in node.body:
            yield from _walk(part, numbers, running=running)
        return
    if isinstance(node, ast.AnnAssign):
        if node.value:
            yield from _walk(node.value, numbers, running=running)
        return
    for words, change in _changes(node):
        at = node.target if isinstance(node, ast.comprehension) else node
        line = getattr(at, "lineno", 0)
        last = getattr(at, "end_lineno", line) or line
        yield Mutation(numbers[node], line, last, running, words, change)
    for child in ast.iter_child_nodes(node):
        yield from _walk(child, numbers, running=running or isinstance(node, ast.Lambda))


def _makes_no_difference(node: ast.AST) -> bool:
    """Whether nothing that is scored or said hangs on *node*."""
    if isinstance(node, ast.AnnAssign):
        return isinstance(node.annotation, ast.Name) and node.annotation.id == "TypeAlias"
    if isinstance(node, ast.keyword):
        return node.arg in SWITCHES
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)  # a docstring
    return isinstance(node, (ast.Raise, ast.arg, ast.Import, ast.ImportFrom))


def _changes(node: ast.AST) -> Iterator[tuple[str, Change]]:
    """What can be done wrong with one *node*."""
    if isinstance(node, ast.Compare) and type(node.ops[0]) in OTHER_COMPARE:
        other = OTHER_COMPARE[type(node.ops[0])]
        yield f"{_name(node.ops[0])} becomes {other.__name__}", _with(ops=[other(), *node.ops[1:]])
    elif isinstance(node, ast.BinOp) and type(node.op) in OTHER_SUM and not _is_text(node):
        sums = OTHER_SUM[type(node.op)]
        yield f"{_name(node.op)} becomes {sums.__name__}", _with(op=sums())
    elif isinstance(node, ast.AugAssign):
        yield (
            f"{_name(node.op)}= only sets",
            lambda old: ast.copy_location(ast.Assign([old.target], old.value), old),  # type: ignore[attr-defined]
        )
    elif isinstance(node, ast.BoolOp):
        joined = ast.Or if isinstance(node.op, ast.And) else ast.And
        yield f"{_name(node.op)} becomes {joined.__name__}", _with(op=joined())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.Not, ast.USub)):
        yield f"{_name(node.op)} is left out", lambda old: old.operand  # type: ignore[attr-defined]
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield f"{node.value} becomes {not node.value}", _with(value=not node.value)
    elif isinstance(node, ast.Constant) and isinstance(node.value, int):
        yield f"{node.value} becomes {node.value + 1}", _with(value=node.value + 1)
    elif isinstance(node, ast.IfExp):
        yield "the two ways change places", _swapped
    elif isinstance(node, ast.If):
        yield (
            "the condition is turned round",
            lambda old: _put(old, test=ast.UnaryOp(ast.Not(), old.test)),  # type: ignore[attr-defined]
        )
    elif isinstance(node, ast.comprehension) and node.ifs:
        yield "the condition is left out", _with(ifs=[])
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        yield "the call is left out", lambda old: ast.copy_location(ast.Pass(), old)
    elif isinstance(node, (ast.Break, ast.Continue)):
        turned = ast.Continue if isinstance(node, ast.Break) else ast.Break
        yield (
            f"{_name(node)} becomes {turned.__name__}",
            lambda old: ast.copy_location(turned(), old),
        )
    elif (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in OTHER_NAME
    ):
        name = OTHER_NAME[node.func.id]
        yield f"{node.func.id} becomes {name}", _with(func=ast.Name(name, ast.Load()))


def _with(**parts: object) -> Change:
    return lambda old: _put(old, **parts)


def _put(old: ast.AST, **parts: object) -> ast.AST:
    new = copy.copy(old)
    for name, part in parts.items():
        setattr(new, name, part)
    return new


def _swapped(old: ast.AST) -> ast.AST:
    assert isinstance(old, ast.IfExp)
    return _put(old, body=old.orelse, orelse=old.body)


def _is_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(side, ast.JoinedStr) or isinstance(getattr(side, "value", None), str)
        for side in (node.left, node.right)
    )


def _name(operator: ast.AST) -> str:
    return type(operator).__name__
