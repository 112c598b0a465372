"""The ways out, and one sending through them."""

from pathlib import Path

import typer

from audiences.findings import Finding
from notices import assembly
from notices.cases.outgoing import Pace, WayOutError
from notices.cli.entry.world import SETTINGS
from notices.cli.saying import MEND, say_findings, stop
from notices.work import dispatching, sampling
from notices.work.ports import World
from notices.work.sending import Sent


def way_out(world: World, folder: Path | None, pace: str) -> assembly.Post:
    """Return the folder, or the mail server of mail.toml, at the pace asked for; end where there is none."""
    asked = _pace(pace)
    if folder is not None:
        return assembly.folder_post(folder, pace=asked)
    try:
        found, findings = assembly.mail_post(world, SETTINGS, pace=asked)
    except WayOutError as fault:
        stop(str(fault))
    if found is None:
        say_findings(findings)
        raise typer.Exit(MEND)
    return found


def _pace(text: str) -> Pace | None:
    if not text:
        return None
    found = assembly.pace(text)
    if isinstance(found, Finding):
        stop(f"{found.message}; {found.mend}")
    return found


def test(world: World, post: assembly.Post, address: str) -> sampling.Tested:
    """Send the draft's variants to one address."""
    try:
        return sampling.send_test(world, post.way, address)
    except ValueError as fault:
        stop(f"{address}: {fault}")


def dispatch(world: World, post: assembly.Post) -> Sent:
    """Send what stands ready; Ctrl-C ends the run after the message that is going out."""
    with assembly.sender() as sender:
        return dispatching.dispatch(
            world, post.way, sender, by=SETTINGS.by, pace=post.pace, connections=post.connections
        )
