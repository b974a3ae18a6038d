"""Small faults for Python source: each changes one sign, one number or one name, as a slip of the hand would."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

TINY = 1e-9
COMPARED = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
}
RECKONED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
JOINED = {ast.And: ast.Or, ast.Or: ast.And}
PAIRS = ["min max", "argmin argmax", "any all", "front back", "left right", "cos sin"]
EXCHANGED = {one: other for pair in PAIRS for one, other in (pair.split(), pair.split()[::-1])}


@dataclass(frozen=True)
class Fault:
    """One change. path: from the tree's root; statement: the line on which its statement begins; start, end: place in
    the file's text; new: what stands there instead."""

    path: Path
    line: int
    statement: int
    start: int
    end: int
    old: str
    new: str

    def put_in(self, text: str) -> str:
        return text[: self.start] + self.new + text[self.end :]

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: {self.old!r} -> {self.new!r}"


def faults_of(path: Path, tree: Path) -> Iterator[Fault]:
    """Every fault that can be put into a file of a tree, constants of modules and bodies of functions alike."""
    text = (tree / path).read_text(encoding="utf-8")
    rows = [0]
    for row in text.splitlines(keepends=True):
        rows.append(rows[-1] + len(row))

    def place(line: int, column: int) -> int:
        start = rows[line - 1]
        row = text[start : rows[line]].encode()
        return start + len(row[:column].decode())

    parsed = ast.parse(text)
    begins: dict[int, int] = {}
    for statement in ast.walk(parsed):  # from the outside in: the innermost has the last word
        if isinstance(statement, ast.stmt):
            begins |= {id(part): statement.lineno for part in ast.walk(statement)}
    for node, new in changes(parsed):
        start, end = place(node.lineno, node.col_offset), place(node.end_lineno, node.end_col_offset)
        old = text[start:end]
        if stands_there(node, old):
            yield Fault(
                path, node.lineno, begins[id(node)], start, end, old, f"({new})" if " " in new else new
            )


def stands_there(node: ast.expr, text: str) -> bool:
    """Whether this text is the expression: before Python 3.12 an f-string misplaces what it holds."""
    try:
        found = ast.parse(f"({text})", mode="eval").body
    except SyntaxError:
        return False
    return ast.dump(found) == ast.dump(node)


def changes(tree: ast.AST) -> Iterator[tuple[ast.expr, str]]:
    """Pairs of an expression and its faulty form."""
    idle = {id(part) for guard in guards(tree) for part in ast.walk(guard)}
    for node in ast.walk(tree):
        if id(node) in idle:
            continue
        if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARED:
            other = ast.Compare(node.left, [COMPARED[type(node.ops[0])](), *node.ops[1:]], node.comparators)
            yield node, ast.unparse(other)
        elif isinstance(node, ast.BinOp) and type(node.op) in RECKONED and not is_text(node):
            yield node, ast.unparse(ast.BinOp(node.left, RECKONED[type(node.op)](), node.right))
        elif isinstance(node, ast.BoolOp):
            yield node, ast.unparse(ast.BoolOp(JOINED[type(node.op)](), node.values))
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
            yield node, ast.unparse(node.operand)
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float, bool):
            yield node, constant(node.value)
        elif isinstance(node, ast.Name) and node.id in EXCHANGED and isinstance(node.ctx, ast.Load):
            yield node, EXCHANGED[node.id]
        elif isinstance(node, ast.Attribute) and node.attr in EXCHANGED and isinstance(node.ctx, ast.Load):
            yield node, ast.unparse(ast.Attribute(node.value, EXCHANGED[node.attr], ast.Load()))


def guards(tree: ast.AST) -> Iterator[ast.AST]:
    """What changes nothing where the rest is right: frozen classes, zips that are strict, and tolerances so small
    that three tenths more of them are nothing either.
    """
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef):
            yield from node.decorator_list
        elif (isinstance(node, ast.keyword) and node.arg == "strict") or is_tiny(node):
            yield node


def is_tiny(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, float) and 0.0 < node.value <= TINY


def constant(value: float) -> str:
    if isinstance(value, bool):
        return str(not value)
    return str(value + 1) if isinstance(value, int) else repr(1.3 * value if value else 0.1)


def is_text(node: ast.BinOp) -> bool:
    sides = (node.left, node.right)
    return any(
        isinstance(s, ast.JoinedStr) or (isinstance(s, ast.Constant) and isinstance(s.value, str))
        for s in sides
    )
