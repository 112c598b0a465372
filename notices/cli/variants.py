"""Variants and signatures in plain text and JSON."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from notices.cli.options import command
from notices.cli.saying import number
from notices.work.proving import Item
from notices.work.signing import Signed, SigningPlan

_SHORT = 12  # signs of a fingerprint that tell a campaign's variants apart


def listed(items: Sequence[Item]) -> str:
    """Return one line a variant, most owners first."""
    if not items:
        return "Nobody is owed a notice by e-mail."
    return "\n".join(_line(item) for item in items)


def _line(item: Item) -> str:
    by = f"signed by {', '.join(item.signed_by)}" if item.signed_by else "not signed"
    held = f"; {number(item.overruled, 'finding')} overruled" if item.overruled else ""
    held += "; read by nobody" if item.unread else ""
    held += "" if item.may_go else "; something must be mended"
    return f"{item.composed.fingerprint[:_SHORT]}  {item.name}: {number(item.owners, 'owner')}, {by}{held}"


def item_as_json(item: Item) -> dict[str, object]:
    """Return a variant in the shape that other programs read."""
    return {
        "name": item.name,
        "fingerprint": item.composed.fingerprint,
        "owners": item.owners,
        "signed_by": list(item.signed_by),
        "may_go": item.may_go,
        "overruled": item.overruled,
        "unread": item.unread,
    }


def plan(planned: SigningPlan) -> str:
    """Return what a signature would do."""
    return "\n".join([*_what_follows(planned), listed(planned.items)])


def _what_follows(planned: SigningPlan) -> Iterator[str]:
    if not planned.adopts:
        yield f"The draft is revision {planned.number}, which stands already."
        return
    yield f"The draft becomes revision {planned.number}; every unit is judged by it."
    for verdict, count in sorted(planned.verdicts.items()):
        yield f"  {number(count, 'unit')} become {verdict}" if count != 1 else f"  1 unit becomes {verdict}"
    if planned.instructions:
        yield f"  for {number(planned.instructions, 'unit')} something else is said than before"
    if planned.corrections:
        yield f"  {number(planned.corrections, 'owner')} are owed a correction"
    if planned.calls:
        who = "1 unit was safe by our word: call its owner" if planned.calls == 1 else ""
        who = who or f"{planned.calls} units were safe by our word: call their owners"
        yield f"  {who} today (notices due)"
    if planned.withdrawn:
        yield f"  {number(planned.withdrawn, 'waiting message')} will not go, for they would say otherwise now"


def signed(done: Signed, campaign: Path) -> str:
    """Return what was signed, what was not, and the command to type next in the folder *campaign*."""
    lines = []
    if done.adopted:
        lines.append(f"Revision {done.number} is signed.")
    lines.append(f"{number(done.signed, 'variant')} signed, {done.already} signed before.")
    lines += [f"held back: {item.name}" for item in done.held]
    lines += [f"waits for your word, for nobody has read it: {item.name}" for item in done.unread]
    if done.unread:
        lines.append(f"To give it: {command('sign --by NAME --all --unread-too', campaign)}")
    lines += [f"no such variant: {name}" for name in done.unknown]
    if done.signed or done.already:
        lines.append(f"Next: {command('send', campaign)}")
    return "\n".join(lines)
