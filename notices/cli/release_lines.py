"""The order of release in plain text that a narrow terminal bears too."""

import shutil
import textwrap
from collections.abc import Iterator
from pathlib import Path

from notices.cases.release import Standing
from notices.cli.options import command
from notices.work.releasing import Readiness

_WIDEST = 110
_HOW = {
    "sale": "stop-sale",
    "authorities": "deadlines",
    "backup": "backup TO",
}


def lines(found: Readiness, campaign: Path) -> Iterator[str]:
    """Yield each step with its state in words, where owners come, and the one next command."""
    width = min(shutil.get_terminal_size().columns, _WIDEST)
    before = True
    for one in found.steps:
        if before and not one.step.before_owners:
            before = False
            yield f"then owners: {command('send', campaign)}"
        yield from textwrap.wrap(
            _line(one, found), width, subsequent_indent="    ", break_long_words=False, break_on_hyphens=False
        )
    yield ""
    yield next_step(found, campaign)


def next_step(found: Readiness, campaign: Path) -> str:
    """Return the one next command."""
    one = found.next
    if one is None:
        return "Every step is done or overruled."
    done = command(f"ready {one.step.key} done --by NAME", campaign)
    if not one.step.before_owners:
        return f"Next: {command('send', campaign)}; then {one.step.key}: {done}"
    if one.step.key == "page":
        return f"Next: {command('ready page', campaign)}"
    how = f"{command(_HOW[one.step.key], campaign)}, then " if one.step.key in _HOW else ""
    return f"Next: {how}{done}"


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
