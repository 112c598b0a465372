"""What each finding means, read from the tables beside this module: one a room."""

import difflib
import tomllib
from functools import cache
from importlib.resources import files


@cache
def _entries() -> dict[str, dict[str, str]]:
    folder = files("notices.cli") / "explanations"
    found: dict[str, dict[str, str]] = {}
    for file in sorted(folder.iterdir(), key=lambda each: each.name):
        if file.name.endswith(".toml"):
            found |= tomllib.loads(file.read_text("utf-8"))
    return found


def codes() -> list[str]:
    """Return every code that can be explained, in order."""
    return sorted(_entries())


def explain(code: str) -> str | None:
    """Return what *code* means, how to mend it and who says so; None for a code that is none."""
    entry = _entries().get(code)
    if entry is None:
        return None
    lines = [code, "", entry["means"], "", f"mend: {entry['mend']}"]
    return "\n".join([*lines, f"source: {entry['source']}"] if "source" in entry else lines)


def near(code: str) -> str | None:
    """Return the code that is spelled most like *code*, if one comes close."""
    close = difflib.get_close_matches(code, codes(), n=1)
    return close[0] if close else None
