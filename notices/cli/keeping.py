"""Keep: hold the record against itself, back it up, put a backup back."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print, Yes
from notices.cli.saying import ask, end, finding_as_json, number, say, say_findings, say_json, warn

_PLACE = "The folder to put it in, best on another disk."


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(verify)
    app.command()(backup)
    app.command()(restore)


def verify(
    *,
    refold: Annotated[
        bool, typer.Option("--refold", help="First write every case anew from its events.")
    ] = False,
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Say whether anything is missing from the record or changed in it.

    Every event is held against its fingerprint, the ends of all streams against the last seal, every case against
    its events. A backup seals the record.
    """
    from notices.cli.entry.world import opened
    from notices.work import refolding, verifying

    with opened(campaign) as world:
        if refold:
            with world.register.change() as tx:
                refolding.refold(tx)
        with world.register.look() as tx:
            found = verifying.verify(tx)
    if output is Format.JSON:
        say_json(
            {
                **verifying.as_json(found),
                "findings": [finding_as_json(one) for one in found.findings],
            }
        )
        end(mend=bool(found.findings))
        return
    say_findings(found.findings)
    say(_looked_at(found.streams, found.events, found.cases, faults=len(found.findings)))
    if found.seal is None or found.sealed_at is None:
        say("It was never sealed; notices backup does that.")
    else:
        say(f"Last sealed {_when(found.sealed_at)}: {found.seal.digest}")
    end(mend=bool(found.findings))


def _looked_at(streams: int, events: int, cases: int, *, faults: int) -> str:
    held = f"{number(streams, 'stream')}, {number(events, 'event')}, {number(cases, 'case')}"
    return f"{held}: {'everything is there and unchanged' if not faults else number(faults, 'fault')}."


def _when(moment: datetime) -> str:
    return moment.isoformat(sep=" ", timespec="minutes")


def backup(
    *,
    place: Annotated[Path, typer.Argument(metavar="TO", help=_PLACE)],
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Write the register and the campaign's files into one file, and read it back.

    It may run while others work. It holds names, addresses and the keys of the personal links: keep it where only
    you can read it. mail.toml is not in it.
    """
    from notices.cli.entry import keeping
    from notices.cli.entry.world import by, opened
    from notices.work import keeping as use_case

    with opened(campaign) as world:
        done = use_case.backup(world, keeping.shelf(campaign, place), by=by())
    if output is Format.JSON:
        say_json(
            {**use_case.backed_up_as_json(done), "findings": [finding_as_json(one) for one in done.findings]}
        )
        end(mend=bool(done.findings))
        return
    say_findings(done.findings)
    say(f"{done.place} is written and read back: {number(done.seal.events, 'event')} sealed.")
    say(f"Seal: {done.seal.digest}")
    if done.same_disk:
        say("It lies on the same disk as the register and would be lost with it; copy it to another one.")
    end(mend=bool(done.findings))


def restore(
    *,
    source: Annotated[
        Path, typer.Argument(metavar="FROM", help="The backup, or a folder: then the newest in it.")
    ],
    into: Annotated[
        Path,
        typer.Option("--into", metavar="DIR", help="The campaign folder; without it, the one you are in."),
    ] = HERE,
    yes: Yes = False,
) -> None:
    """Put a backup into an empty register, with the campaign's files beside it.

    It is checked before and verified after; where that fails nothing is stored. NOTICES_REGISTER may name another
    kind of register than it came from. Files that are there already stay as they are.
    """
    from notices.cli.entry import keeping
    from notices.work import keeping as use_case

    with keeping.made(into) as world:
        shelf = keeping.shelf(into, source)
        archive = use_case.checked(shelf)
        faults = use_case.faults(archive)
        if faults:
            say_findings(faults)
            ask("The record in this backup is not whole. Restore it all the same?", yes=yes)
        done = use_case.restore(world, shelf, archive)
    looked = done.verified
    wrong = say_findings(looked.findings)
    say(_looked_at(looked.streams, looked.events, looked.cases, faults=len(looked.findings)))
    if done.made_at:
        say(f"Restored as it was {_when(done.made_at)}; what was recorded later is not in it.")
    for name in done.kept:
        warn(f"notices: {name} differs from the backup's and was left as it is")
    if done.reconcile:
        say(
            "Before the next send: notices outbox reconcile. mail.toml is not in a backup: see that it is there."
        )
    end(mend=wrong)
