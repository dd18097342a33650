"""The rules of the contributor's guide that a machine can hold: layers, sums, sizes, words, the top level."""

import ast
import os
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
APP = ROOT / "app/washline"
MODULES = sorted(APP.rglob("*.py"))

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "app", "resources", "db", "tests", "packaging"}

LONGEST_FILE = 600
LONGEST_FUNCTION = 50

# What may be imported inside a function, and why.
LATE_IMPORTS = {
    "__main__.py": "the console commands load no Qt, and the window nothing that the first paint can do without",
    "quantity/units.py": "pint takes 0.4 s to load, which no start without a conversion should pay",
}

# Names whose sums or transcendentals depend on the number of columns computed at once.
REORDERING_METHODS = {"dot", "sum", "einsum", "reduceat", "matmul", "inner", "vdot", "tensordot", "nansum"}
SCALAR_MATHS = {"exp", "log"}

# Built from pieces, so that this file may hold them.
FOREIGN_WORDS = [
    "/" + "work/",
    "/" + "root/",
    "/" + "tmp/",
    ".." + "/shared",
    "python" + "hosted",
    "py" + "pi.org",
]
TEXT_KINDS = {
    ".py",
    ".md",
    ".toml",
    ".csv",
    ".json",
    ".txt",
    ".xml",
    ".svg",
    ".desktop",
    ".mako",
    ".html",
    "",
}
NOT_OURS = {".git", ".venv", "__pycache__"}


def name_of(file: Path) -> str:
    return str(file.relative_to(ROOT))


def project_texts() -> list[Path]:
    files = [file for top in sorted(TOP_LEVEL) for file in [ROOT / top, *sorted((ROOT / top).rglob("*"))]]
    files += sorted((ROOT / ".ci").rglob("*"))
    return [
        file
        for file in files
        if file.is_file() and file.suffix in TEXT_KINDS and not NOT_OURS & set(file.parts)
    ]


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


def contracts(app: Path) -> str:
    """What the import contracts say about the package ``washline`` in the folder ``app``."""
    command = [
        str(Path(sys.executable).parent / "lint-imports"),
        "--no-cache",
        str(ROOT / "pyproject.toml"),
    ]
    variables = {**os.environ, "PYTHONPATH": str(app)}
    run = subprocess.run(command, cwd=app, env=variables, capture_output=True, text=True, check=False)
    return run.stdout + run.stderr


def test_import_contracts_are_kept() -> None:
    printed = contracts(ROOT / "app")
    assert "Contracts: 4 kept, 0 broken." in printed, printed


@pytest.fixture
def skeleton(tmp_path: Path) -> Path:
    """A package of empty modules that has the layers of the project."""
    contract = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"][0]
    package = tmp_path / "washline"
    package.mkdir()
    for name in ["__init__", *(part.strip() for layer in contract["layers"] for part in layer.split("|"))]:
        (package / f"{name}.py").touch()
    return package


PLANTED_IMPORTS = {
    "chemistry": "import PySide6.QtCore",
    "engine": "def late() -> None:\n    import washline.store",
    "document": "from sqlalchemy import select",
    "ui": "import washline.cli",
    "store": "import washline.exchange",
    "helpers": "",
}


def test_skeleton_keeps_the_contracts(skeleton: Path) -> None:
    assert "Contracts: 4 kept, 0 broken." in contracts(skeleton.parent)


@pytest.mark.parametrize("module", PLANTED_IMPORTS)
def test_planted_import_breaks_a_contract(skeleton: Path, module: str) -> None:
    (skeleton / f"{module}.py").write_text(PLANTED_IMPORTS[module] + "\n")
    assert "1 broken" in contracts(skeleton.parent)


@pytest.mark.parametrize("package", ["cli", "document"])
def test_package_without_a_window_loads_no_qt(package: str) -> None:
    code = f"import sys, washline.{package}; print(sys.modules.keys() & {{'PySide6', 'pyqtgraph'}})"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "set()"


def reordering(source: str) -> list[str]:
    """What in ``source`` may sum in another order for one column than for many, with its line."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.BinOp | ast.AugAssign) and isinstance(node.op, ast.MatMult):
            found.append(f"{node.lineno}: @")
        elif isinstance(node, ast.Attribute):
            owner = node.value.id if isinstance(node.value, ast.Name) else ""
            if node.attr in REORDERING_METHODS or (owner == "math" and node.attr in SCALAR_MATHS):
                found.append(f"{node.lineno}: .{node.attr}")
        elif isinstance(node, ast.ImportFrom) and node.module in {"math", "numpy"}:
            banned = SCALAR_MATHS if node.module == "math" else REORDERING_METHODS
            found += [f"{node.lineno}: {alias.name}" for alias in node.names if alias.name in banned]
    return found


@pytest.mark.parametrize("folder", ["chemistry", "engine"])
def test_sums_run_left_to_right(folder: str) -> None:
    files = sorted((APP / folder).rglob("*.py"))
    assert files
    assert {
        name_of(file): reordering(file.read_text()) for file in files if reordering(file.read_text())
    } == {}


@pytest.mark.parametrize(
    "line",
    [
        "total = weights @ grams",
        "weights @= grams",
        "total = grams.sum()",
        "total = grams.sum(axis=0)",
        "total = np.sum(grams)",
        "total = weights.dot(grams)",
        "total = np.einsum('i,i', weights, grams)",
        "total = np.add.reduceat(grams, starts)",
        "factor = math.exp(-1.0)",
        "factor = math.log(2.0)",
        "from math import exp",
        "from numpy import einsum",
    ],
)
def test_planted_sum_is_caught(line: str) -> None:
    assert len(reordering(f"import math\n{line}\n")) == 1


@pytest.mark.parametrize(
    "line",
    [
        "total = np.add.accumulate(grams)[-1]",
        "factor = np.exp(-1.0)",
        "text = 'sum(@) .dot(x)'",
        "total += grams[0]",
    ],
)
def test_sum_from_left_to_right_is_no_fault(line: str) -> None:
    assert reordering(line) == []


@pytest.mark.parametrize("file", MODULES, ids=name_of)
def test_imports_stand_at_the_top_of_the_file(file: Path) -> None:
    inner = [
        f"line {node.lineno}"
        for function in functions(ast.parse(file.read_text()))
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    assert inner == [] or str(file.relative_to(APP)) in LATE_IMPORTS


@pytest.mark.parametrize("file", MODULES, ids=name_of)
def test_file_is_not_too_long(file: Path) -> None:
    assert len(file.read_text().splitlines()) <= LONGEST_FILE


def code_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """The lines of a function without its docstring."""
    first = function.body[0]
    is_docstring = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    docstring = (first.end_lineno or 0) - first.lineno + 1 if is_docstring else 0
    return (function.end_lineno or 0) - function.lineno + 1 - docstring


@pytest.mark.parametrize("file", MODULES, ids=name_of)
def test_functions_are_not_too_long(file: Path) -> None:
    lengths = {function.name: code_lines(function) for function in functions(ast.parse(file.read_text()))}
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST_FUNCTION} == {}


def test_late_imports_are_listed_for_files_that_exist() -> None:
    assert [name for name in LATE_IMPORTS if not (APP / name).exists()] == []


def test_top_level_holds_exactly_what_the_guide_names() -> None:
    assert {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")} == TOP_LEVEL


def test_no_file_knows_the_machine_that_it_was_written_on() -> None:
    found = {
        name_of(file): [word for word in FOREIGN_WORDS if word in file.read_text(encoding="utf-8")]
        for file in project_texts()
    }
    assert {name: words for name, words in found.items() if words} == {}


def test_texts_of_the_project_are_looked_at() -> None:
    names = {name_of(file) for file in project_texts()}
    assert {
        "pyproject.toml",
        ".ci/run",
        "packaging/start.py",
        "packaging/LICENSE",
        "app/washline/__init__.py",
    } <= names
