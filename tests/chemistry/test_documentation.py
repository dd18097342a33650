"""Every public function of chemistry says its units, range, error and source, runs its example, and has a method."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import washline.chemistry
from washline.chemistry.methods import METHODS

# Ways of handling arrays, tables and lists of names; they hold no physics and so no units.
WITHOUT_UNITS = {"arrays", "coefficients", "components", "methods"}
SECTIONS = ("Arguments:", "Returns:", "Valid:", "Error:", "Source:")
UNITS = re.compile(
    r"degC|kg/m3|g/mol|g/mL|mL/g|g/L|mL per mL|\bmL\b|mmol|\bmol\b|% vol|% by mass|J/gK|\bJ\b|\bkJ\b|kcal|kJ/g"
    r"|\bg\b|g/g|g per|g ethanol per|g sucrose per|units?\b|\(1\)|\bmin\b|\bs\b|\bkPa\b|no unit"
)

MODULES = sorted(module.name for module in pkgutil.iter_modules(washline.chemistry.__path__))


def public_functions():
    found = []
    for name in MODULES:
        module = importlib.import_module(f"washline.chemistry.{name}")
        if name in WITHOUT_UNITS:
            continue
        for key, member in vars(module).items():
            is_own = getattr(member, "__module__", None) == module.__name__ and not inspect.isclass(member)
            if callable(member) and is_own and not key.startswith("_"):
                found.append((f"{name}.{key}", member))
    return found


FUNCTIONS = public_functions()


def section(text, title):
    """The text of one section of a docstring, up to the next."""
    rest = text.split(title, 1)[1]
    return re.split("|".join(re.escape(other) for other in SECTIONS) + "|>>>", rest)[0]


@pytest.mark.parametrize("name, function", FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_a_function_names_unit_range_error_and_source(name, function):
    text = inspect.getdoc(function)
    assert [title for title in SECTIONS if title not in text] == []
    assert all(section(text, title).strip() for title in SECTIONS)
    assert UNITS.search(section(text, "Returns:")), "the result has no unit"
    assert ">>>" in text, "there is no example"


@pytest.mark.parametrize("name, function", FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_a_function_gives_each_argument_a_unit(name, function):
    arguments = section(inspect.getdoc(function), "Arguments:")
    for parameter in inspect.signature(function).parameters:
        line = re.search(rf"^\s*{parameter}: (.+)$", arguments, re.MULTILINE)
        assert line, f"{parameter} is not described"
        assert UNITS.search(line[1]), f"{parameter} has no unit"


@pytest.mark.parametrize("module", MODULES)
def test_the_examples_of_a_module_are_right(module):
    result = doctest.testmod(importlib.import_module(f"washline.chemistry.{module}"))
    assert result.failed == 0


def test_every_function_belongs_to_exactly_one_method():
    listed = [function for method in METHODS.values() for function in method.functions]
    assert sorted(listed) == sorted(name for name, _ in FUNCTIONS)


@pytest.mark.parametrize("method", METHODS.values(), ids=METHODS.keys())
def test_a_method_can_be_shown(method):
    assert all((method.name, method.unit, method.error))
    assert method.source.endswith(".")


def test_the_walk_finds_the_functions_it_is_meant_for():
    names = {name for name, _ in FUNCTIONS}
    assert {"mixture.volume_ml", "water.density_kg_per_m3", "acidity.equivalent_mass_g_per_mol"} <= names
    assert len(names) > 30
