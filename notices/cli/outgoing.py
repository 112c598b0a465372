"""The outbox: how many messages stand where, and an older register brought to terms with the mail that was sent."""

from pathlib import Path
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print
from notices.cli.saying import end, number, say, say_json, stop

_outbox = typer.Typer(
    name="outbox",
    invoke_without_command=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    _outbox.callback()(outbox)
    _outbox.command()(reconcile)
    app.add_typer(_outbox)


def outbox(context: typer.Context, *, campaign: Campaign = HERE, output: Print = Format.TEXT) -> None:
    """Show how many messages stand where."""
    if context.invoked_subcommand is not None:
        if campaign != HERE or output is not Format.TEXT:
            stop(f"give the options after the word {context.invoked_subcommand}")
        return
    from notices.cli import going_out
    from notices.cli.entry.world import opened
    from notices.work import outgoing

    with opened(campaign) as world:
        found = outgoing.outbox(world)
    if output is Format.JSON:
        say_json(dict(found.counts))
        return
    say(going_out.outbox(found))


def reconcile(
    *,
    maildir: Annotated[
        list[Path],
        typer.Option(
            "--maildir",
            metavar="DIR",
            help="A Maildir with copies of what was sent: a Sent folder, a journal.",
        ),
    ] = [],  # noqa: B006 - read, never written; the command line library asks for a list
    folder: Annotated[
        list[Path],
        typer.Option("--folder", metavar="DIR", help="A folder that send --to-folder wrote messages into."),
    ] = [],  # noqa: B006 - the same
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Settle what may have been sent without this register's knowledge.

    Needed after a restore, before the next send. A message that is found counts as handed over. Of the rest, a stop,
    a first notice or a correction goes once more under its old Message-ID, a reminder does not.
    """
    from notices.cli.entry import keeping
    from notices.cli.entry.world import opened
    from notices.work import reconciling

    seen = keeping.sent_before(maildir, folder)
    with opened(campaign) as world:
        done = reconciling.reconcile(world, seen)
    if output is Format.JSON:
        say_json(reconciling.as_json(done))
        return
    say(f"{number(done.found, 'message')} found and counted as handed over.")
    if done.needed:
        say(
            f"{number(done.in_doubt, 'message')} may have gone out since the backup: in doubt now. "
            "notices send settles them; a stop, first notice or correction goes once more under its old Message-ID."
        )
        say(
            "Messages made after the backup are not in this register; whoever is owed one gets it again, "
            "under a new Message-ID."
        )
    if done.unknown:
        say(f"{number(done.unknown, 'message')} found that this register does not know of.")
    end(mend=False)
