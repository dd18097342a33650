"""What keeps the two commands able to start on a machine that has nothing but Python."""

import ast
import sys
from pathlib import Path

import pytest

import environment

FOLDER = Path(__file__).resolve().parents[2] / "packaging"
FILES = sorted(FOLDER.glob("*.py"))
OWN = {file.stem for file in FILES}


def imported(tree: ast.AST) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add((node.module or ".").split(".")[0])
    return names


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_file_can_be_read_by_python_3_8(file: Path) -> None:
    ast.parse(file.read_text(), feature_version=(3, 8))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_file_imports_the_standard_library_only(file: Path) -> None:
    assert imported(ast.parse(file.read_text())) - OWN - sys.stdlib_module_names == set()


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_annotations_are_not_evaluated_by_an_old_interpreter(file: Path) -> None:
    tree = ast.parse(file.read_text())
    if any(isinstance(node, ast.FunctionDef) for node in ast.walk(tree)):
        assert "__future__" in imported(tree)


def test_packaging_is_not_a_package() -> None:
    assert not (FOLDER / "__init__.py").exists()
    library = sys.modules["packaging"]
    assert FOLDER not in Path(str(library.__file__)).parents


def test_no_file_has_the_name_of_a_standard_module() -> None:
    assert OWN & sys.stdlib_module_names == set()


def test_stamp_covers_every_file_of_the_set_up() -> None:
    after_the_set_up = {"start.py", "check.py", "picture.py", "stages.py", "wheel_check.py"}
    assert {file.name for file in FILES} - after_the_set_up == set(environment.SET_UP_FILES)
