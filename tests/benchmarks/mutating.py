"""Mutants of a module: its syntax tree with one small fault put in.

A fault is one of those that hands make: a bound that is off by one, a sign, the wrong one of two
operations, "and" for "or", a condition turned round. Text is left alone, and so is what says
nothing about figures: annotations, decorators, imports and assertions.
"""

import ast
from collections.abc import Iterator
from dataclasses import dataclass

OTHER_COMPARISON: dict[type[ast.cmpop], type[ast.cmpop]] = {
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
OTHER_OPERATION: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
}
OTHER_FUNCTION = {
    "min": "max",
    "max": "min",
    "any": "all",
    "all": "any",
    "floor": "ceil",
    "ceil": "floor",
}
KEYWORDS_LEFT_ALONE = {"strict", "init", "repr", "compare"}
"""Keywords that guard or describe; turned round they seldom change what a program answers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One small fault: what stood there, and what stands there instead.

    statement: the line on which its statement begins; line: its own, which may be further down.
    """

    statement: int
    line: int
    was: str
    now: str


def faults(source: str) -> list[Fault]:
    """Every fault that can be put into a module, innermost first."""
    finder = _PutIn(None)
    finder.visit(ast.parse(source))
    return finder.faults


def with_fault(source: str, number: int) -> ast.Module:
    """The tree of a module with one of its faults in it, by its place among `faults`."""
    tree = ast.parse(source)
    _PutIn(number).visit(tree)
    return ast.fix_missing_locations(tree)


class _PutIn(ast.NodeTransformer):
    """Gathers all faults; puts in the one with that number, if any."""

    def __init__(self, number: int | None) -> None:
        self.number = number
        self.faults: list[Fault] = []
        self._statement = 0

    def visit(self, node: ast.AST) -> ast.AST:
        if isinstance(node, ast.TypeAlias | ast.Assert | ast.Import | ast.ImportFrom | ast.arg):
            return node
        around = self._statement
        self._statement = node.lineno if isinstance(node, ast.stmt) else around
        node = super().visit(node)
        chosen = node
        for instead in (*_other_operations(node), *_other_values(node)):
            if len(self.faults) == self.number:
                chosen = ast.copy_location(instead, node)
            self.faults.append(self._fault(node, instead))
        self._statement = around
        return chosen

    def _fault(self, node: ast.AST, instead: ast.AST) -> Fault:
        line = getattr(node, "lineno", self._statement)
        was, now = ast.unparse(node), ast.unparse(instead)
        return Fault(statement=self._statement, line=line, was=was, now=now)

    def _each(self, holder: ast.AST, *names: str) -> None:
        """Go into some fields only."""
        for name in names:
            value = getattr(holder, name)
            if isinstance(value, list):
                value[:] = [self.visit(each) if each is not None else None for each in value]
            elif value is not None:
                setattr(holder, name, self.visit(value))

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        self._each(node.args, "defaults", "kw_defaults")
        self._each(node, "body")
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        self._each(node, "body")
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        self._each(node, "value")
        return node

    def visit_keyword(self, node: ast.keyword) -> ast.AST:
        if node.arg not in KEYWORDS_LEFT_ALONE:
            self._each(node, "value")
        return node


def _other_operations(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Compare(left=left, ops=ops, comparators=others):
            for at, op in enumerate(ops):
                turned = [*ops[:at], OTHER_COMPARISON[type(op)](), *ops[at + 1 :]]
                yield ast.Compare(left=left, ops=turned, comparators=others)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OTHER_OPERATION:
            yield ast.BinOp(left=left, op=OTHER_OPERATION[type(op)](), right=right)
        case ast.AugAssign(target=target, op=op, value=value) if type(op) in OTHER_OPERATION:
            yield ast.AugAssign(target=target, op=OTHER_OPERATION[type(op)](), value=value)
        case ast.BoolOp(op=op, values=values):
            yield ast.BoolOp(op=ast.Or() if isinstance(op, ast.And) else ast.And(), values=values)
        case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand):
            yield operand


def _other_values(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Constant(value=bool(value)):
            yield ast.Constant(value=not value)
        case ast.Constant(value=int(value)):
            yield ast.Constant(value=value + 1)
        case ast.Call(func=ast.Name(id=name), args=args, keywords=keywords) if (
            name in OTHER_FUNCTION
        ):
            other = ast.Name(id=OTHER_FUNCTION[name], ctx=ast.Load())
            yield ast.Call(func=other, args=args, keywords=keywords)
        case ast.Break():
            yield ast.Continue()
        case ast.Continue():
            yield ast.Break()
