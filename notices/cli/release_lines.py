"""The order of release in plain text that a narrow terminal bears too."""

import shutil
import textwrap
from collections.abc import Iterator

from notices.cases.release import Standing
from notices.work.releasing import Readiness

_WIDEST = 110
_HOW = {
    "sale": "notices stop-sale",
    "authorities": "notices deadlines",
    "backup": "notices backup TO",
}


def lines(found: Readiness, send: str) -> Iterator[str]:
    """Yield each step with its state in words, where owners come, and the one next command."""
    width = min(shutil.get_terminal_size().columns, _WIDEST)
    before = True
    for one in found.steps:
        if before and not one.step.before_owners:
            before = False
            yield f"then owners: {send}"
        yield from textwrap.wrap(
            _line(one, found), width, subsequent_indent="    ", break_long_words=False, break_on_hyphens=False
        )
    yield ""
    yield next_step(found, send)


def next_step(found: Readiness, send: str) -> str:
    """Return the one next command."""
    one = found.next
    if one is None:
        return "Every step is done or overruled."
    if not one.step.before_owners:
        return f"Next: {send}; then {one.step.key}: notices ready {one.step.key} done --by NAME"
    if one.step.key == "page":
        return "Next: notices ready page"
    how = f"{_HOW[one.step.key]}, then " if one.step.key in _HOW else ""
    return f"Next: {how}notices ready {one.step.key} done --by NAME"


def try_page(address: str) -> str:
    """Return how the page is tried from outside."""
    return (
        f"Open {address} on a telephone outside the house network, within half an hour; notices serve must run.\n"
        "Next, with the code that it shows: notices ready page CODE --by NAME"
    )


def before_sending(found: Readiness) -> str:
    """Return in one line what is not ready when owners are about to be told; empty where everything is."""
    names = ", ".join(one.step.key for one in found.waiting)
    return f"Not yet done or overruled before owners are told: {names} (notices ready)." if names else ""


def _line(one: Standing, found: Readiness) -> str:
    head = f"{one.state}: {one.step.key}, {one.step.what}"
    who = f" ({one.by}, {one.on.isoformat()})" if one.on else ""
    text = found.texts.get(one.text, "")
    return f"{head}{who}{f': {text}' if text else ''}"
