"""Send: what is owed and signed goes out; what became of it."""

from pathlib import Path
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Yes
from notices.cli.saying import ask, end, number, say, stop

ToFolder = Annotated[
    Path | None,
    typer.Option(
        "--to-folder", metavar="DIR", help="Write each message as a file; its owner then counts as told."
    ),
]
Test = Annotated[
    str,
    typer.Option("--test", metavar="ADDRESS", help="Send the draft to this address alone, marked as a test."),
]
PaceOption = Annotated[
    str,
    typer.Option(
        "--pace", metavar="PACE", help="At most so many, as in 60/s, 30/min or 500/h; else mail.toml's."
    ),
]


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(send)


def send(
    *,
    to_folder: ToFolder = None,
    test: Test = "",
    pace: PaceOption = "",
    campaign: Campaign = HERE,
    yes: Yes = False,
) -> None:
    """Send what is owed and signed, the most endangered first.

    It ends when nothing more can go now, and says when to run it again.
    """
    from notices.cli import going_out, release_lines
    from notices.cli.entry import post
    from notices.cli.entry.world import opened
    from notices.work import dispatching, releasing

    with opened(campaign) as world:
        way = post.way_out(world, to_folder, pace)
        if test:
            end(mend=going_out.say_tested(post.test(world, way, test)))
            return
        ready = dispatching.ready(world)
        say(going_out.before(ready))
        if not ready.anything:
            end(mend=bool(ready.unsigned) or ready.revision is None)
            return
        if not_ready := release_lines.before_sending(releasing.ready(world)):
            say(not_ready)
        if to_folder is not None and ready.owners:
            ask(f"{number(ready.owners, 'owner')} then count as told. Write into {to_folder}?", yes=yes)
        sent = post.dispatch(world, way)
    say(going_out.after(sent, ready.zone))
    if not sent.finished:
        stop(sent.stopped_because)
    end(mend=bool(sent.refused or ready.unsigned))
