"""The source tree as the house tests read it: parsed, never run."""

import ast
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("audiences", "notices")


@dataclass(frozen=True, kw_only=True, slots=True)
class Module:
    """One module: its dotted name, its file, its text and its syntax tree."""

    name: str
    file: Path
    text: str
    tree: ast.Module

    @property
    def place(self) -> str:
        """Return the file's path below the root of the tree."""
        return self.file.relative_to(ROOT).as_posix()


@cache
def modules() -> tuple[Module, ...]:
    """Return every module of the shipped packages, ordered by name."""
    return tuple(read(file) for package in PACKAGES for file in sorted((ROOT / package).rglob("*.py")))


@cache
def test_modules() -> tuple[Module, ...]:
    """Return every module under tests/."""
    return tuple(read(file) for file in sorted((ROOT / "tests").rglob("*.py")))


def read(file: Path) -> Module:
    """Parse one file of the tree."""
    text = file.read_text("utf-8")
    parts = file.relative_to(ROOT).with_suffix("").parts
    name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
    return Module(name=name, file=file, text=text, tree=ast.parse(text, filename=str(file)))


def imports(module: Module) -> Iterator[tuple[str, int]]:
    """Yield each name that *module* imports anywhere, functions included, with its line.

    ``from a.b import c`` yields ``a.b.c`` where that is a module of ours, else ``a.b``.
    """
    known = {each.name for each in modules()}
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module.place}:{node.lineno}: imports are absolute"
            base = node.module or ""
            for alias in node.names:
                deeper = f"{base}.{alias.name}"
                yield (deeper if deeper in known else base), node.lineno


@cache
def explanations() -> dict[str, dict[str, str]]:
    """Return what is said of each finding's code, by code; a code explained twice is a failure."""
    found: dict[str, dict[str, str]] = {}
    for file in sorted((ROOT / "notices/cli/explanations").glob("*.toml")):
        for code, entry in tomllib.loads(file.read_text("utf-8")).items():
            assert code not in found, f"{code} is explained twice, the second time in {file.name}"
            found[code] = entry
    return found
