"""The starting folder's stove as a whole campaign: what a test changes one thing of."""

import re
from collections.abc import Iterator

from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.starter import STARTER

_BEGINS = re.compile(r"( *)# [a-z_]+:")


def blocks(text: str = STARTER) -> Iterator[tuple[int, ...]]:
    """Yield the line numbers, from 0, of each block that can be taken out of its comment."""
    lines = text.split("\n")
    at = 0
    while at < len(lines):
        begins = _BEGINS.match(lines[at])
        end = at + 1
        if begins:
            while lines[end].startswith(f"{begins[1]}#  "):
                end += 1
            yield tuple(range(at, end))
        at = end


def opened(*taken: tuple[int, ...], text: str = STARTER) -> str:
    """Return the text with the blocks taken out of their comments."""
    lines = text.split("\n")
    for block in taken:
        for at in block:
            lines[at] = re.sub(r"^( *)# ", r"\1", lines[at])
    return "\n".join(lines)


WHOLE = opened(*blocks())
"""Every part of the campaign file, of a camping stove; it loads without a finding."""


def a_stove(*changes: tuple[str, str], text: str = WHOLE) -> Campaign:
    """Return the whole stove with each piece of its text replaced by another."""
    loaded = load(changed(*changes, text=text))
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    return loaded.campaign


def changed(*changes: tuple[str, str], text: str = WHOLE) -> str:
    """Return the whole text with each piece replaced by another; a piece that is not there once is a mistake."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands there {text.count(old)} times"
        text = text.replace(old, new)
    return text


def without(*keys: str, text: str = WHOLE) -> str:
    """Return the whole text without some of its outermost parts."""
    for key in keys:
        text, found = re.subn(rf"^{key}:.*\n(?:[ ].*\n)*", "", text, flags=re.MULTILINE)
        assert found == 1, f"{key} stands there {found} times"
    return text
