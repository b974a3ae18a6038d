"""The house rules that a machine can check: which room may call on which, comparisons that assert nothing, and text
read in the machine's own encoding."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
# The flow of DEVELOPERS.md: a folder imports only itself and what stands before it.
FLOW = [
    "errors", "steady", "legible", "wording", "process", "beside", "units", "fonts", "design", "shape", "settle",
    "foresee", "report", "study", "mesh", "scene", "miniature", "write", "page", "draw", "sheets",
]  # fmt: skip
# These gather everything; nothing in the flow may import them.
GATHERING = ["flow", "backward", "results", "orders", "live", "door", "__main__"]
LIBRARY = sorted((ROOT / "cage3d").rglob("*.py"))
SHELL = sorted((ROOT / "cli").rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))


def short(path: Path) -> str:
    return str(path.relative_to(ROOT))


def room_of(path: Path) -> str:
    inside = path.relative_to(ROOT / "cage3d")
    return inside.parts[0].removesuffix(".py")


def imported_rooms(path: Path) -> set[str]:
    rooms = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = (
                [node.module] if node.module != "cage3d" else [f"cage3d.{alias.name}" for alias in node.names]
            )
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        rooms |= {name.split(".")[1] for name in names if name.startswith("cage3d.")}
    return rooms


def test_every_room_is_in_the_flow():
    rooms = {room_of(path) for path in LIBRARY} - {"__init__"}
    assert rooms == set(FLOW) | set(GATHERING)


def module_names(path: Path) -> set[str]:
    """Names that a file gives to functions, classes and figures of its own."""
    names = set()
    for node in ast.parse(path.read_text("utf-8")).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names |= {target.id for target in targets if isinstance(target, ast.Name)}
    return names


@pytest.mark.parametrize("path", LIBRARY + SHELL, ids=short)
def test_one_habit_of_privacy(path):
    """What one file uses is called as plainly as what all use; an underscore marks an object's own state."""
    hidden = {name for name in module_names(path) if name.startswith("_") and not name.startswith("__")}
    assert not hidden, f"drop the leading underscore of {', '.join(sorted(hidden))}"


def test_every_room_is_installed():
    """A folder left out of pyproject's list is missed only by those who install the tool."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    folders = {".".join(path.parent.relative_to(ROOT).parts) for path in LIBRARY}
    rooms_of_pages = {f"cage3d.{room}.files{end}" for room in ("page", "live") for end in ("", ".scripts")}
    not_code = {*rooms_of_pages, "cage3d.samples"}
    assert set(project["tool"]["setuptools"]["packages"]) == folders | not_code | {"cage3d_cli"}


@pytest.mark.parametrize("path", [path for path in LIBRARY if room_of(path) in FLOW], ids=short)
def test_a_room_imports_only_rooms_before_it(path):
    allowed = set(FLOW[: FLOW.index(room_of(path)) + 1])
    assert imported_rooms(path) <= allowed


@pytest.mark.parametrize("path", LIBRARY, ids=short)
def test_the_library_never_prints_or_exits(path):
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            assert called not in {"print", "sys.exit", "exit", "quit"}, f"line {node.lineno}"
    assert "typer" not in {alias.name for alias in imports_of(path)}


def imports_of(path: Path) -> list[ast.alias]:
    found = [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Import)]
    return [alias for node in found for alias in node.names]


COMPARING = {"allclose", "isclose", "array_equal", "approx"}


def thrown_away(source: str) -> list[int]:
    """Lines with a comparison whose answer nobody reads."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Expr)
        and (isinstance(node.value, ast.Compare) or called_name(node.value) in COMPARING)
    ]


def called_name(node: ast.expr) -> str:
    if not isinstance(node, ast.Call):
        return ""
    return ast.unparse(node.func).rsplit(".", 1)[-1]


@pytest.mark.parametrize("path", TESTS, ids=short)
def test_no_comparison_is_thrown_away(path):
    assert thrown_away(path.read_text("utf-8")) == []


def test_the_guard_itself_can_fail():
    assert thrown_away("np.allclose(a, b)\nassert np.allclose(a, b)\na == b\n") == [1, 3]


PLACE_OF_ENCODING = {"read_text": 0, "write_text": 1, "open": 3}  # among the arguments given by place


def machine_encoded(source: str) -> list[int]:
    """Lines that read or write text in whatever encoding the machine has: UTF-8 here, seldom so on Windows."""
    found = []
    for node in ast.walk(ast.parse(source)):
        name = called_name(node) if isinstance(node, ast.Call) else ""
        # Of other calls named open most are of bytes (Image.open, os.open); a function read_text reads a design.
        method = isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
        if name not in PLACE_OF_ENCODING or method == (name == "open"):
            continue
        given = "encoding" in {keyword.arg for keyword in node.keywords}
        binary = any(isinstance(arg, ast.Constant) and "b" in str(arg.value) for arg in node.args[1:2])
        if not given and len(node.args) <= PLACE_OF_ENCODING[name] and not (name == "open" and binary):
            found.append(node.lineno)
    return found


def test_text_is_read_and_written_in_a_named_encoding():
    found = {short(path): machine_encoded(path.read_text("utf-8")) for path in [*LIBRARY, *SHELL, *TESTS]}
    assert {path: lines for path, lines in found.items() if lines} == {}


def test_the_guard_of_encodings_can_fail():
    bad = 'path.read_text()\npath.write_text("a")\nopen("a", "w")\nopen(path)\n'
    good = (
        'path.read_text("utf-8")\npath.write_text("a", encoding="utf-8")\nopen("a", "rb")\nImage.open("a")\n'
    )
    assert machine_encoded(bad) == [1, 2, 3, 4]
    assert machine_encoded(good) == []


def test_ci_names_only_tests_that_are_there():
    for script in ("run", "lowest", "weekly"):
        text = (ROOT / ".ci" / script).read_text(encoding="utf-8")
        named = re.findall(r"tests/[a-z_/0-9]+(?:\.py)?", text)
        assert [name for name in named if not (ROOT / name).exists()] == [], script


def test_every_number_of_the_trade_is_told_twice():
    """A new one in `design/trade.py` belongs in the second table, in the unit its source has it in."""
    second = (ROOT / "tests" / "design" / "test_trade_numbers.py").read_text("utf-8")
    names = {name for name in module_names(ROOT / "cage3d" / "design" / "trade.py") if name.isupper()}
    assert names
    missing = sorted(name for name in names if not re.search(rf"\b{name}\b", second))
    assert not missing, f"write {', '.join(missing)} into tests/design/test_trade_numbers.py too"
