"""Tell everybody: the stop of sales, and the public bulletin."""

from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print
from notices.cli.saying import end, number, say, say_findings, say_json, stop


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command("stop-sale")(stop_sale)
    app.command()(bulletin)


def stop_sale(
    *,
    place: Annotated[
        str, typer.Argument(metavar="[PLACE]", help="Record that this place has stopped selling.")
    ] = "",
    holds: Annotated[
        int | None, typer.Option("--holds", metavar="N", min=0, help="How many units it holds back.")
    ] = None,
    by: Annotated[str, typer.Option("--by", metavar="NAME", help="Who said so there.")] = "",
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Write the note that stops all sales, and keep who has.

    Nothing needs to be signed for it. With PLACE it records that this place has stopped.
    """
    from notices.cli.entry.world import opened
    from notices.work import stopping

    with opened(campaign) as world:
        if place:
            if holds is None or not by.strip():
                stop("a place has stopped when somebody there says how many it holds: --holds N --by NAME")
            stopping.stop(world, place=place.strip(), holds=holds, by=by.strip())
        elif holds is not None or by:
            stop("say which place: notices stop-sale PLACE --by NAME --holds N")
        elif output is Format.TEXT:
            note = stopping.write_note(world)
            end(mend=say_findings(note.findings))
            say("\n".join([note.text, *(str(campaign / name) for name in note.files), ""]))
        places = stopping.places(world)
    if output is Format.JSON:
        say_json([{"place": one.place, "holds": one.holds, "by": one.by} for one in places])
        return
    for one in places:
        say(f"{one.place}: {'no word yet' if one.holds is None else f'holds {one.holds}, says {one.by}'}")
    silent = sum(one.holds is None for one in places)
    say(f"{len(places) - silent} of {number(len(places), 'place')} have stopped.")


def bulletin(
    *,
    published: Annotated[
        bool, typer.Option("--published", help="Record that the pages are now public under their address.")
    ] = False,
    campaign: Campaign = HERE,
) -> None:
    """Write the public pages of the signed revision."""
    from notices.cli.entry.world import by, opened
    from notices.work import publishing

    with opened(campaign) as world:
        done = publishing.publish(world, by=by()) if published else publishing.write_bulletin(world)
    mend = say_findings(done.findings)
    for name in done.pages:
        say(str(campaign / name))
    if published and done.pages:
        say(f"Revision {done.number} counts as published.")
    elif done.pages:
        say("Put the folder on your web space, then notices bulletin --published")
    end(mend=mend)
