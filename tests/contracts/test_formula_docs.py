"""Every public formula says what it takes and gives, and shows it by an example that runs."""

from __future__ import annotations

import ast
import inspect
import pkgutil
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

import zonule.formulas

Function = Callable[..., Any]


def _modules() -> list[ModuleType]:
    found = pkgutil.walk_packages(zonule.formulas.__path__, "zonule.formulas.")
    return [import_module(one.name) for one in found]


def _public() -> list[tuple[str, Function]]:
    return [
        (f"{module.__name__.removeprefix('zonule.formulas.')}.{name}", function)
        for module in _modules()
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    ]


PUBLIC = _public()


def test_the_walk_found_the_formulas() -> None:
    assert len(PUBLIC) >= 70
    assert {"power.srkt.lens_power", "fellow_eye.carry_over"} <= {name for name, _ in PUBLIC}


@pytest.mark.parametrize(("name", "function"), PUBLIC, ids=[name for name, _ in PUBLIC])
def test_a_public_formula_has_a_docstring_with_an_example(name: str, function: Function) -> None:
    text = inspect.getdoc(function)
    assert text, name
    assert ">>> " in text, "an example that runs"


NUMERIC = [(n, f) for n, f in PUBLIC if n.startswith(("power.", "optics.")) and len(n) > 12]


@pytest.mark.parametrize(("name", "function"), NUMERIC, ids=[name for name, _ in NUMERIC])
def test_numbers_go_in_by_keyword_only(name: str, function: Function) -> None:
    by_place = [
        parameter.name
        for parameter in inspect.signature(function).parameters.values()
        if _is_number(parameter.annotation)
        if parameter.kind is not inspect.Parameter.KEYWORD_ONLY
    ]
    assert len(by_place) <= 1, f"{name}: two numbers by place can be swapped: {by_place}"


def _is_number(annotation: object) -> bool:
    return "ArrayLike" in str(annotation) or annotation in ("float", float)


@pytest.mark.parametrize("module", ["srkt", "t2", "holladay1", "hofferq", "haigis"])
@pytest.mark.parametrize(
    "name", ["thin_eye", "lens_position", "lens_power", "refraction", "position_from_outcome"]
)
def test_a_power_formula_has_its_five_functions_with_units_and_departures(
    module: str, name: str
) -> None:
    found = import_module(f"zonule.formulas.power.{module}")
    text = inspect.getdoc(getattr(found, name)) or ""
    whole = " ".join((text + " " + (inspect.getdoc(found) or "")).split())
    assert "Parameters" in text or "See" in text or "as in" in text.lower(), "its parameters"
    assert "Departures from print" in whole
    assert "[" in text, "units in brackets"


def test_formulas_do_not_warn_nor_print_nor_read() -> None:
    for module in _modules():
        assert module.__file__
        tree = ast.parse(Path(module.__file__).read_text("utf-8"))
        calls = {
            node.func.id
            for node in ast.walk(tree)
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        }
        assert not calls & {"print", "open", "input", "warn"}, module.__name__
