"""Nothing of a person's is deleted: every place that deletes or overwrites says why it may.

A new one fails this test until it is told in `WHY` what becomes of what was there.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
SQL = re.compile(
    r"\b(?:DELETE\s+FROM|UPDATE\s+(?!OF\b)[\w{]+\s+SET|INSERT\s+OR\s+REPLACE|REPLACE\s+INTO|DROP\s+TABLE"
    r"|TRUNCATE)\b",
)
CALLS = frozenset({
    "unlink", "rmdir", "rmtree", "remove", "removedirs", "renames", "move",
    "write_bytes", "write_text", "copyfile", "copy2", "copytree", "copy",
})  # fmt: skip


def test_whatever_deletes_or_overwrites_says_why_it_may() -> None:
    found = set(places())
    assert found - WHY.keys() == set(), "say in WHY what becomes of what was there"
    assert WHY.keys() - found == set(), "these are gone; take them out of WHY"


def places() -> Iterator[str]:
    for folder in ("joblog", "tui/joblog_tui"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            if "training" not in path.parts:
                name = path.relative_to(ROOT).as_posix().removesuffix(".py")
                yield from places_in(name, ast.parse(path.read_text("utf-8")))


def places_in(name: str, tree: ast.Module) -> Iterator[str]:
    """The functions, and the names given at the top, that may take something away."""
    for part in tree.body:
        inside = part.body if isinstance(part, ast.ClassDef) else [part]
        for one in inside:
            if any(map(takes_away, ast.walk(one))):
                yield f"{name}:{called(one)}"


def called(part: ast.stmt) -> str:
    if isinstance(part, ast.Assign):
        return ast.unparse(part.targets[0])
    return str(getattr(part, "name", "") or ast.unparse(part).splitlines()[0])


def takes_away(node: ast.AST) -> bool:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return bool(SQL.search(node.value))
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
        return False
    what, given = node.func.attr, len(node.args)
    if what in ("replace", "rename", "truncate"):
        # Of a path or file; those of a text have two, and those of a noun name what they change.
        return given == 1 and not node.keywords
    if what == "open":
        return any(
            isinstance(one, ast.Constant) and isinstance(one.value, str) and one.value[:1] in "wa"
            for one in node.args
        )
    return what in CALLS and not (what in ("remove", "copy", "move") and not is_of_files(node.func))


def is_of_files(function: ast.Attribute) -> bool:
    """`os.remove` and `shutil.move`, and not those of a list or of a screen."""
    return isinstance(function.value, ast.Name) and function.value.id in ("os", "shutil")


WHY: dict[str, str] = {}
