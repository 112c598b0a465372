"""What each finding means, read from the tables beside this module: one a room."""

import difflib
import tomllib
from functools import cache
from importlib.resources import files

from notices.campaign.overruling import JUDGEMENTS


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
    """Return what *code* means, how to mend it, who says so and whether to judge otherwise; None for none."""
    entry = _entries().get(code)
    if entry is None:
        return None
    lines = [code, "", entry["means"], "", f"mend: {entry['mend']}"]
    lines += [f"source: {entry['source']}"] if "source" in entry else []
    why = JUDGEMENTS.get(code)
    lines += (
        [f"may be overruled: {why}; notices overrule {code} PLACE --by NAME --reason TEXT"] if why else []
    )
    return "\n".join(lines)


def near(code: str) -> str | None:
    """Return the code that is spelled most like *code*, if one comes close."""
    close = difflib.get_close_matches(code, codes(), n=1)
    return close[0] if close else None
