"""Every finding can be looked up, and every one is raised by a test that names its line."""

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache

from tests import source
from tests.source import Module

_CODE = re.compile(r"[a-z]+(?:-[a-z0-9]+)+")
_QUOTED = re.compile(r"\[([a-z]+(?:-[a-z0-9]+)+)\]")
_PLACE = re.compile(r":\d+: (?:must mend|consider) \[")


@dataclass(kw_only=True, slots=True)
class Codes:
    """The codes of one reading of the source, and the places whose code could not be told."""

    found: dict[str, str] = field(default_factory=dict)
    untold: list[str] = field(default_factory=list)


@cache
def raised() -> Codes:
    """Collect every code that the source can raise.

    A code is the literal ``code=`` of a call. Where ``code=`` is not a literal, it comes from a literal table of
    the same module whose name holds CODES, or from a parameter called ``code``, whose literal stands in a call.
    """
    codes = Codes()
    places = _parameters()
    for module in source.modules():
        _tables(module, codes)
        for node in ast.walk(module.tree):
            if isinstance(node, ast.Call):
                _call(module, node, codes, places)
    return codes


def _parameters() -> dict[str, int]:
    """Return the place of a parameter called ``code`` among the arguments, by the function's name."""
    found = {}
    for module in source.modules():
        for node in ast.walk(module.tree):
            if isinstance(node, ast.FunctionDef):
                names = [argument.arg for argument in node.args.args if argument.arg not in {"self", "cls"}]
                if "code" in names:
                    found[node.name] = names.index("code")
    return found


def _tables(module: Module, codes: Codes) -> None:
    for node in module.tree.body:
        names = [name.id for name in _targets(node) if "CODES" in name.id]
        value = getattr(node, "value", None)
        if names and value is not None:
            for text in _strings(value):
                if _CODE.fullmatch(text):
                    codes.found.setdefault(text, module.place)


def _targets(node: ast.stmt) -> Iterator[ast.Name]:
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
    return (target for target in targets if isinstance(target, ast.Name))


def _call(module: Module, node: ast.Call, codes: Codes, places: dict[str, int]) -> None:
    value = next((keyword.value for keyword in node.keywords if keyword.arg == "code"), None)
    name = getattr(node.func, "id", getattr(node.func, "attr", ""))
    if value is None and name in places and len(node.args) > places[name]:
        value = node.args[places[name]]
    is_finding = isinstance(node.func, ast.Name) and node.func.id == "Finding"
    texts = list(_literals(value)) if value is not None else []
    for text in texts:
        if _CODE.fullmatch(text):
            codes.found.setdefault(text, module.place)
    if is_finding and not texts and not _from_a_table(module, value):
        codes.untold.append(f"{module.place}:{node.lineno}")


def _literals(value: ast.expr) -> Iterator[str]:
    """Yield the text, or both texts of a conditional expression."""
    if isinstance(value, ast.Constant) and isinstance(value.value, str):
        yield value.value
    elif isinstance(value, ast.IfExp):
        yield from _literals(value.body)
        yield from _literals(value.orelse)


def _from_a_table(module: Module, value: ast.expr | None) -> bool:
    if isinstance(value, ast.Name) and value.id == "code":
        return True
    return any("CODES" in name.id for node in module.tree.body for name in _targets(node))


def _strings(node: ast.AST) -> Iterator[str]:
    for each in ast.walk(node):
        if isinstance(each, ast.Constant) and isinstance(each.value, str):
            yield each.value


def test_every_finding_has_a_code_that_can_be_read_in_the_source() -> None:
    assert raised().untold == []


def test_every_code_is_explained() -> None:
    unexplained = {code: place for code, place in raised().found.items() if code not in source.explanations()}

    assert unexplained == {}


def test_every_explanation_belongs_to_a_code() -> None:
    idle = sorted(source.explanations().keys() - raised().found.keys())

    assert idle == []


def test_every_explanation_says_what_it_means_and_how_to_mend_it() -> None:
    poor = [
        code
        for code, entry in source.explanations().items()
        if not entry.get("means") or not entry.get("mend") or entry.keys() - {"means", "mend", "source"}
    ]

    assert poor == []


def test_every_code_is_raised_by_a_test_that_names_its_line() -> None:
    unraised = sorted(raised().found.keys() - set(_tested()))

    assert unraised == []


def _tested() -> Iterator[str]:
    for module in source.test_modules():
        if module.file.parent != source.ROOT / "tests":
            yield from _tested_in(module)


def _tested_in(module: Module) -> Iterator[str]:
    """Yield the codes that stand in a test, its parameters, or what it calls, where that also names a line."""
    named = {name: node for node in module.tree.body for name in _names(node)}
    for name, node in named.items():
        if isinstance(node, ast.FunctionDef) and name.startswith("test_"):
            reach = list(_reach(node, named))
            texts = [text for each in reach for text in _strings(each)]
            if _names_a_line(reach, texts):
                yield from (text for text in texts if _CODE.fullmatch(text))
                yield from (code for text in texts for code in _QUOTED.findall(text))


def _names(node: ast.stmt) -> Iterator[str]:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        yield node.name
    else:
        yield from (name.id for name in _targets(node))


def _reach(start: ast.stmt, named: dict[str, ast.stmt]) -> Iterator[ast.stmt]:
    """Yield *start* and all of its module that it refers to, at first or at second hand."""
    seen: set[ast.stmt] = set()
    waiting = [start]
    while waiting:
        node = waiting.pop()
        if node not in seen:
            seen.add(node)
            waiting += [
                named[each.id] for each in ast.walk(node) if isinstance(each, ast.Name) and each.id in named
            ]
            yield node


def _names_a_line(reach: Iterable[ast.stmt], texts: Iterable[str]) -> bool:
    return any(text == "line" or _PLACE.search(text) for text in texts) or any(
        (isinstance(each, ast.Attribute) and each.attr == "line")
        or (isinstance(each, ast.keyword) and each.arg == "line")
        or (isinstance(each, ast.Name) and each.id == "line")
        for node in reach
        for each in ast.walk(node)
    )
