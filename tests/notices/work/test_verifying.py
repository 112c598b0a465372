"""The record held against itself: whatever is missing or changed is named, whoever did it and however."""

import random
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from audiences import canonical
from notices import assembly
from notices.cases import chain
from notices.cases.events import chained, instant
from notices.store import open_register
from notices.work import gates, sealing
from notices.work.ports import World
from notices.work.refolding import refold
from notices.work.verifying import Verified, as_json, verify
from tests import folders
from tests.builders import DEMO_FOLDER
from tests.folders import Desk
from tests.registers import ENGINES, an_address
from tests.tampering import tamper

GONE = "DELETE FROM events WHERE stream = :stream"
CASE = "UPDATE cases"


@pytest.fixture(params=ENGINES)
def desk(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Desk]:
    """Give a desk with the list taken in, signed and sent, its register on each engine."""
    root = tmp_path / "campaign"
    root.mkdir()
    shutil.copytree(DEMO_FOLDER / "pictures", root / "pictures")
    with an_address(request.param, tmp_path) as address:
        register = open_register(address, now=folders.WARNED)
        dice = random.Random(7)  # noqa: S311 - a test repeats
        world = assembly.world(root, register, now=lambda: folders.WARNED, draw=dice.randrange)
        made = Desk(root=root, now=folders.WARNED, world=world)
        made.wording(0)
        made.take()
        made.sign()
        made.post()
        made.send()
        yield made
        register.close()


def looked(world: World) -> Verified:
    with world.register.look() as tx:
        return verify(tx)


def found(world: World) -> list[tuple[str, str, str, int | None]]:
    return [(one.code, one.path, one.message, one.line) for one in looked(world).findings]


def a_unit(world: World) -> str:
    with world.register.look() as tx:
        return next(one.unit_id for one in tx.units.units().values() if one.code == "QM-2534-B0172")


def test_a_record_that_is_whole_has_no_fault(desk: Desk) -> None:
    before = looked(desk.world)
    seal = sealing.seal(desk.world, by="Ines Hall")
    after = looked(desk.world)

    assert (before.findings, before.seal, before.cases) == ((), None, 5)
    assert (after.findings, after.seal, after.sealed_at) == ((), seal, folders.WARNED)
    assert (seal.streams, seal.events) == (before.streams, before.events)
    assert after.events == before.events + 1
    assert as_json(after)["sealed"] == {
        "at": "2026-02-26T17:00:00.000000Z",
        "streams": seal.streams,
        "events": seal.events,
        "digest": seal.digest,
    }


def test_work_goes_on_after_a_seal_and_a_new_one_takes_its_place(desk: Desk) -> None:
    first = sealing.seal(desk.world, by="Ines Hall")
    desk.take(folders.LIST + "6,New Owner,new@post.example,,,,DE,de,,2025-10-10,DE\n")
    between = looked(desk.world)
    second = sealing.seal(desk.world, by="Ines Hall")

    assert (between.findings, between.seal) == ((), first)
    assert (looked(desk.world).findings, looked(desk.world).seal) == ((), second)
    assert second.streams == first.streams + 2


def test_a_changed_event_is_named_with_its_unit_and_its_place(desk: Desk) -> None:
    unit = a_unit(desk.world)
    change = "UPDATE events SET actor = 'nobody' WHERE stream = :stream AND seq = 2"
    tamper(desk.world.register, change, stream=f"unit:{unit}")

    assert found(desk.world) == [
        (
            "event-changed",
            f"unit {unit}, event 2",
            "this event is not what was recorded: its fingerprint does not fit",
            None,
        )
    ]


def test_an_event_that_was_taken_out_is_named(desk: Desk) -> None:
    unit = a_unit(desk.world)
    tamper(desk.world.register, f"{GONE} AND seq = 1", stream=f"unit:{unit}")
    faults = found(desk.world)

    assert ("event-missing", f"unit {unit}, event 1", "this event is missing", None) in faults
    assert {fault[1].partition(",")[0] for fault in faults} == {f"unit {unit}"}


def test_the_last_event_of_a_unit_cannot_go_unseen_even_before_the_first_seal(desk: Desk) -> None:
    unit = a_unit(desk.world)
    tamper(desk.world.register, f"{GONE} AND kind = 'notice_handed_over'", stream=f"unit:{unit}")

    assert found(desk.world) == [
        (
            "case-differs",
            f"unit {unit}",
            "its row differs from its events in: version, stage, live, first on, changed on, what is due",
            None,
        )
    ]


def test_a_whole_stream_that_is_gone_shows(desk: Desk) -> None:
    unit = a_unit(desk.world)
    sealing.seal(desk.world, by="Ines Hall")
    with desk.world.register.look() as tx:
        owner = next(iter(tx.people.owners()))
        counts = [len(tx.events.stream(stream)) for stream in (f"owner:{owner}", f"unit:{unit}")]
    for stream in (f"unit:{unit}", f"owner:{owner}"):
        tamper(desk.world.register, GONE, stream=stream)
    tamper(desk.world.register, "DELETE FROM cases WHERE unit_id = :unit", unit=unit)

    assert found(desk.world) == [
        ("stream-missing", f"owner {owner}", f"nothing of it is left; events sealed: {counts[0]}", None),
        ("stream-missing", f"unit {unit}", f"nothing of it is left; events sealed: {counts[1]}", None),
    ]


def test_a_unit_without_a_history_shows_before_the_first_seal(desk: Desk) -> None:
    unit = a_unit(desk.world)
    tamper(desk.world.register, GONE, stream=f"unit:{unit}")

    assert found(desk.world) == [
        ("stream-missing", f"unit {unit}", "the unit is there, and nothing of what happened to it", None)
    ]


def test_the_end_of_a_sealed_stream_cannot_be_cut_off(desk: Desk) -> None:
    with desk.world.register.look() as tx:
        last = tx.events.stream("campaign")[-1].seq
    sealing.seal(desk.world, by="Ines Hall")
    tamper(desk.world.register, f"{GONE} AND seq >= :last", stream="campaign", last=last)

    assert [fault[:2] for fault in found(desk.world)] == [
        ("event-missing", f"campaign, event {last}"),
        ("seal-broken", "last seal"),
    ]


def test_whoever_chains_an_event_anew_is_found_by_the_seal(desk: Desk) -> None:
    unit = a_unit(desk.world)
    sealing.seal(desk.world, by="Ines Hall")
    stream = f"unit:{unit}"
    with desk.world.register.look() as tx:
        links = [link for link in tx.events.links() if link.stream == stream]
    before = ""
    for link in links:
        event = chain.as_event(link)
        assert event is not None
        forged = chained(event, seq=link.seq, recorded_at=folders.RECALLED, before=before)
        before = forged.hash
        tamper(
            desk.world.register,
            "UPDATE events SET recorded_at = :at, hash = :hash WHERE stream = :stream AND seq = :seq",
            at=instant(folders.RECALLED),
            hash=forged.hash,
            stream=stream,
            seq=link.seq,
        )

    assert found(desk.world) == [
        (
            "event-resealed",
            f"unit {unit}, event {links[-1].seq}",
            "this event was chained anew since it was sealed: it, or one before it, was changed",
            None,
        )
    ]


@pytest.mark.parametrize("note", ["", "[]", "{", "[[1,2]]"])
def test_a_list_of_ends_that_does_not_fit_its_seal_shows(note: str, desk: Desk) -> None:
    sealing.seal(desk.world, by="Ines Hall")
    tamper(desk.world.register, "UPDATE meta SET value = :note WHERE name = 'sealed_heads'", note=note)

    assert [(fault[0], fault[3]) for fault in found(desk.world)] == [("seal-broken", None)]


def test_a_list_of_ends_that_is_gone_shows(desk: Desk) -> None:
    sealing.seal(desk.world, by="Ines Hall")
    tamper(desk.world.register, "DELETE FROM meta WHERE name = 'sealed_heads'")

    assert [fault[0] for fault in found(desk.world)] == ["seal-broken"]


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ("segment = 'unridden'", "its row differs from its events in: segment"),
        ("due_on = NULL, due_step = NULL, due_channel = NULL, due_why = NULL", "in: what is due"),
        ("stage = 'flown'", "its row is missing or cannot be read"),
        ("memory = '{'", "its row is missing or cannot be read"),
        ("memory = '{}'", "its row differs from its events in: judged via, listed on"),
    ],
)
def test_a_case_that_is_not_what_its_events_make_is_named_and_can_be_made_again(
    change: str, what: str, desk: Desk
) -> None:
    with desk.world.register.look() as tx:
        unit = next(row.case.unit_id for row in tx.cases.all() if row.due is not None)
    tamper(desk.world.register, f"{CASE} SET {change} WHERE unit_id = :unit", unit=unit)
    faults = looked(desk.world).findings
    with desk.world.register.change() as tx:
        refold(tx)

    assert [(one.code, one.path, one.line) for one in faults] == [("case-differs", f"unit {unit}", None)]
    assert what in faults[0].message
    assert looked(desk.world).findings == ()


@pytest.mark.parametrize(
    ("name", "value"),
    [("markets", "{}"), ("overrulings", '{"0":{"by":"Nobody","text":"0"}}')],
)
def test_a_market_or_an_overruling_that_no_event_tells_of_is_named_and_written_anew(
    name: str, value: str, desk: Desk
) -> None:
    gates.wait(desk.world, "GB", by="Ines Hall", reason="counsel reads it")
    good = looked(desk.world).findings
    with desk.world.register.change() as tx:
        tx.safe.put_note(name, value)
    faults = looked(desk.world).findings
    with desk.world.register.change() as tx:
        refold(tx)
    standing = {gate.market: gate.held for gate in gates.standing(desk.world)}

    assert good == ()
    assert [(one.code, one.path, one.line) for one in faults] == [("note-differs", name, None)]
    assert looked(desk.world).findings == ()
    assert standing["GB"]


def test_a_case_whose_row_is_gone_is_named(desk: Desk) -> None:
    unit = a_unit(desk.world)
    tamper(desk.world.register, "DELETE FROM cases WHERE unit_id = :unit", unit=unit)

    assert [(one.code, one.path) for one in looked(desk.world).findings] == [("case-differs", f"unit {unit}")]


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("flown_away", {}),
        ("use_stated", {"segment": "sideways", "signs": True}),
        ("use_stated", {"nobody": "knows"}),
    ],
)
def test_an_event_that_this_program_does_not_know_is_said_so(
    kind: str, payload: dict[str, object], desk: Desk
) -> None:
    unit = a_unit(desk.world)
    with desk.world.register.look() as tx:
        last = [link for link in tx.events.links() if link.stream == f"unit:{unit}"][-1]
    written = canonical.dump(payload)
    forged = replace(last, seq=last.seq + 1, kind=kind, payload=written, once=None)
    tamper(
        desk.world.register,
        "INSERT INTO events (stream, seq, kind, version, at, recorded_at, actor, via, payload, hash) "
        "SELECT stream, seq + 1, :kind, version, at, recorded_at, actor, via, :payload, :hash "
        "FROM events WHERE stream = :stream AND seq = :seq",
        kind=kind,
        payload=written,
        hash=chain.hash_of(forged, last.hash) or "",
        stream=last.stream,
        seq=last.seq,
    )

    assert [(one.code, one.path, one.line) for one in looked(desk.world).findings] == [
        ("case-unfoldable", f"unit {unit}", None)
    ]


def test_verifying_changes_nothing(desk: Desk) -> None:
    def rows() -> dict[str, list[str]]:
        with desk.world.register.look() as tx:
            return {name: list(tx.whole.lines(name)) for name in tx.whole.tables()}

    before = rows()
    looked(desk.world)

    assert rows() == before
