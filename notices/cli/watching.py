"""Look: where every unit stands, what is due, one unit's history."""

from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, On, Print
from notices.cli.saying import end, number, say, say_findings, say_json


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(status)
    app.command()(due)
    app.command("case")(case)


def status(*, campaign: Campaign = HERE, on: On = None, output: Print = Format.TEXT) -> None:
    """Show where every unit stands, and who has stopped."""
    from notices.cli import gate_lines, grids
    from notices.cli.entry.world import opened
    from notices.work import gates, keeping, looking, owing

    with opened(campaign) as world:
        found = looking.status(world, on=on)
        backup = keeping.last_backup(world)
        held = owing.held_back(world) if on is None else ()
    if output is Format.JSON:
        say_json(
            {
                **looking.status_as_json(found),
                "backup": keeping.last_as_json(backup),
                "held": gates.as_json(held),
            }
        )
        return
    say(grids.status(found))
    for line in gate_lines.held(held):
        say(line)
    say_findings((*found.findings, *(keeping.backup_findings(backup) if on is None else ())))


def due(*, campaign: Campaign = HERE, on: On = None, output: Print = Format.TEXT) -> None:
    """List what is due, the most urgent first."""
    from notices.cli import deadline_lines, shop_lines
    from notices.cli.entry.world import opened
    from notices.work import looking, reporting, shop_standings

    with opened(campaign) as world:
        found = looking.due(world, on=on)
        waiting = shop_standings.due_by(shop_standings.standings(world, on=on), found.on)
        reports = reporting.find(world, on=on)
    if output is Format.JSON:
        say_json({**looking.due_as_json(found), "shops": [shop_standings.as_json(one) for one in waiting]})
        return
    for shop in waiting:
        say(shop_lines.due(shop))
    for step in found.steps:
        reach = "; ".join(", ".join(one.splitlines()) for one in step.to) or "no usable way"
        say(
            f"{step.on.isoformat()}  {step.unit_id}  {step.step} by {step.channel}: {step.why} ({step.owner}; {reach})"
        )
    say(f"{number(len(found.steps) + len(waiting), 'step')} due on {found.on.isoformat()}.")
    if found.next_on:
        say(f"{found.later} later, the next on {found.next_on.isoformat()}.")
    if reports.next is not None:
        say(f"Next report: {deadline_lines.next_line(reports)}")
    say_findings(found.findings)


def case(
    *,
    which: Annotated[
        str, typer.Argument(metavar="ID", help="A unit's reference, its code, or a personal link.")
    ],
    words: Annotated[bool, typer.Option("--words", help="Show each notice as its owner read it.")] = False,
    campaign: Campaign = HERE,
    on: On = None,
    output: Print = Format.TEXT,
) -> None:
    """Show one unit's history: holders, events, notices."""
    from notices.cli import histories
    from notices.cli.entry.world import opened
    from notices.work import seeking

    with opened(campaign) as world:
        found = seeking.seek(world, which, on=on, words=words)
    if output is Format.JSON:
        say_json([seeking.history_as_json(one) for one in found])
    else:
        say(
            "\n\n".join(histories.history(one) for one in found)
            or f"No unit has the reference, code or link {which}."
        )
    end(mend=not found)
