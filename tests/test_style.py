"""The habits that no linter holds: short modules, and a reason beside every silenced check."""

import re
import tokenize
from collections.abc import Iterator
from io import StringIO

from tests import source
from tests.source import Module
from tests.test_layers import PURE, room_of

LONGEST = 300
_SILENCED = re.compile(
    r"#\s*(?:type:\s*ignore(?:\[[\w,\s-]+\])?|noqa(?::\s*[A-Z]+\d+(?:,\s*[A-Z]+\d+)*)?)(.*)"
)


def _comments(module: Module) -> Iterator[tuple[int, str]]:
    for token in tokenize.generate_tokens(StringIO(module.text).readline):
        if token.type == tokenize.COMMENT:
            yield token.start[0], token.string


def test_a_module_stays_under_three_hundred_lines() -> None:
    long = {
        module.place: len(module.text.splitlines())
        for module in source.modules()
        if len(module.text.splitlines()) >= LONGEST
    }

    assert long == {}


def test_no_two_tests_outside_a_package_have_one_name() -> None:
    """Hold what pytest needs: of two such files it would read one alone."""
    loose = [
        path
        for path in (source.ROOT / "tests").rglob("test_*.py")
        if not (path.parent / "__init__.py").exists()
    ]
    twice = {path.name for path in loose if [other.name for other in loose].count(path.name) > 1}

    assert twice == set()


def test_a_silenced_check_says_why() -> None:
    silent = [
        f"{module.place}:{line}: {comment}"
        for module in (*source.modules(), *source.test_modules())
        for line, comment in _comments(module)
        if (found := _SILENCED.search(comment)) and not re.search(r"\w", found[1])
    ]

    assert silent == []


def test_a_pure_room_leaves_nothing_out_of_its_coverage() -> None:
    left_out = [
        f"{module.place}:{line}"
        for module in source.modules()
        if room_of(module.name) in PURE
        for line, comment in _comments(module)
        if "pragma:" in comment and "cover" in comment
    ]

    assert left_out == []
