"""What stands ready to go, what went and what the outbox holds, in plain text."""

from collections.abc import Iterator
from datetime import datetime, tzinfo

from notices.cli import gate_lines
from notices.cli.saying import number, say, say_findings
from notices.work.dispatching import Ready
from notices.work.outgoing import OutboxFigures
from notices.work.sampling import Tested
from notices.work.sending import Sent


def before(ready: Ready) -> str:
    """Return what stands ready, and what cannot go and why."""
    return "\n".join(_before(ready))


def _before(ready: Ready) -> Iterator[str]:
    if ready.revision is None:
        yield "Nothing is signed yet: read notices proofs, then notices sign --by NAME --all"
        return
    if ready.draft_differs:
        yield f"The draft in the folder differs from the signed revision; revision {ready.revision} is what goes out."
    yield f"{number(ready.waiting, 'message')} to {number(ready.owners, 'owner')} can go now, {ready.made} of them new."
    for name, count in sorted(ready.unsigned.items()):
        yield f"not signed, so {number(count, 'message')} cannot go: {name}"
    yield from gate_lines.held(ready.held)
    yield from gate_lines.older(ready.older, ready.revision)
    if not ready.anything and ready.next_at:
        yield f"The rest waits; run notices send again from {_moment(ready.next_at, ready.zone)} on."
    if ready.no_address:
        yield f"{number(ready.no_address, 'owner')} cannot be reached by e-mail; notices due lists what to do for them."


def _moment(moment: datetime, zone: tzinfo) -> str:
    return moment.astimezone(zone).isoformat(sep=" ", timespec="minutes")


def after(sent: Sent, zone: tzinfo) -> str:
    """Return what became of a run, and when to run again."""
    counts = (
        f"{sent.handed_over} handed over, {sent.refused} refused, {sent.in_doubt} in doubt,"
        f" {sent.withdrawn} withdrawn, {sent.later} put off by the mail server."
    )
    lines = [counts]
    if sent.finished and sent.next_at is None:
        lines.append("Nothing is waiting.")
    elif sent.next_at is not None:
        when = _moment(sent.next_at, zone)
        lines.append(f"{number(sent.waiting, 'message')} waiting; run notices send again from {when} on.")
    return "\n".join(lines)


def outbox(found: OutboxFigures) -> str:
    """Return the figures of the outbox, and each message in trouble."""
    lines = [f"{count:>6}  {state.replace('_', ' ')}" for state, count in found.counts.items()]
    lines += [f"{one.state.replace('_', ' ')}: {', '.join(one.units)}: {one.why}" for one in found.troubles]
    return "\n".join(lines)


def say_tested(tested: Tested) -> bool:
    """Print what became of a test; say whether something went wrong."""
    wrong = say_findings(tested.findings) if not tested.outcomes else False
    for name, outcome in tested.outcomes:
        reply = f" ({outcome.code or ''} {outcome.reply})" if outcome.result != "handed_over" else ""
        say(f"{outcome.result.replace('_', ' ')}: {name}{reply}")
    return wrong or any(outcome.result != "handed_over" for _, outcome in tested.outcomes)
