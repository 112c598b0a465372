"""A run over the outbox: nothing lost, nothing twice but what is in doubt, nothing in silence."""

import re
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from threading import Barrier

import pytest

from notices.cases.outgoing import Outcome, Pace, Parcel, RegisterError
from notices.cases.records import Posting, PostingState, Try
from notices.sending import workers
from notices.sending.folder import FolderWay
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from notices.work.ports import Register, Transaction, World
from notices.work.sending import Sent, send
from tests import sending_world
from tests.mail_servers import DROP, Script, ScriptedServer
from tests.sending_world import START, Clock, TellingWay, a_plan, a_world, fill, states

DONE = "everything that was due has gone out"
TAKEN = Outcome(result="handed_over", code=250, enhanced="2.0.0", reply="2.0.0 queued")
DOUBT = Outcome(result="in_doubt", reply="the answer was lost")
LATER = Outcome(result="later", code=451, enhanced="4.3.0", reply="4.3.0 not now")
LOST = Outcome(result="later", reply="the connection was lost")
GONE = Outcome(result="refused", code=550, enhanced="5.1.1", reply="5.1.1 no such user")
POLICY = Outcome(result="refused", code=554, enhanced="5.7.1", reply="5.7.1 policy")
ANOTHER = "another notice is owed now"
MINUTE = timedelta(minutes=1)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def world(tmp_path: Path, clock: Clock) -> Iterator[World]:
    made = a_world(tmp_path, clock)
    yield made
    made.register.close()


def posting(world: World, posting_id: str) -> Posting:
    with world.register.look() as tx:
        return next(tx.outbox.postings(posting_ids=[posting_id]))


def tries_of(world: World, posting_id: str) -> list[Try]:
    with world.register.look() as tx:
        return tx.record.tries([posting_id])


def kinds(world: World, stream: str) -> list[str]:
    with world.register.look() as tx:
        return [event.kind for event in tx.events.stream(stream)]


def ids_of(postings: Sequence[Posting]) -> list[str]:
    """Name these postings."""
    return [one.posting_id for one in postings]


def test_everything_due_goes_out_the_most_endangered_first(world: World, clock: Clock) -> None:
    ids = fill(world, 5)
    way = TellingWay()
    sent = send(world, way, a_plan(clock))

    assert sent == Sent(handed_over=5, stopped_because=DONE)
    assert [one.message_id for one in way.parcels] == [
        f"<{one.lower()}@aldmere.example>" for one in reversed(ids)
    ]
    assert states(world) == {"handed_over": 5}


def test_what_is_handed_over_is_told_in_the_units_history_and_moves_its_case(
    world: World, clock: Clock
) -> None:
    fill(world, 1)
    send(world, TellingWay(), a_plan(clock))
    with world.register.look() as tx:
        event = tx.events.stream("unit:U0001")[-1]
        case = tx.cases.get(["U0001"])["U0001"].case

    assert (event.kind, dict(event.payload)) == (
        "notice_handed_over",
        {
            "posting": "P0001",
            "owner": "O0001",
            "kind": "stop",
            "channel": "email",
            "occasion": "stop",
            "fingerprint": "print-stop",
            "said": "s",
            "revision": 0,
        },
    )
    assert case.stage.key == "notified"


def test_a_try_is_in_the_register_before_the_message_leaves(
    world: World, clock: Clock, tmp_path: Path
) -> None:
    fill(world, 1)
    seen: list[tuple[PostingState, datetime | None]] = []

    def look(_parcel: Parcel) -> None:
        # another process's view: only what has been committed
        other = sending_world.a_world(tmp_path, clock)
        seen.append((posting(other, "P0001").state, tries_of(other, "P0001")[0].ended_at))
        other.register.close()

    send(world, TellingWay(during=look), a_plan(clock))

    assert seen == [(PostingState.TRYING, None)]
    assert [(one.n, one.outcome, one.code) for one in tries_of(world, "P0001")] == [(1, "handed_over", 250)]


def test_a_letter_waits_for_a_person(world: World, clock: Clock) -> None:
    fill(world, 1)
    fill(world, 1, occasion="first", channel="letter", first=2)
    sent = send(world, TellingWay(), a_plan(clock))

    assert (sent.handed_over, sent.waiting) == (1, 0)
    assert posting(world, "P0002").state is PostingState.WAITING


def test_what_no_longer_holds_is_withdrawn_at_its_try(world: World, clock: Clock) -> None:
    fill(world, 2)
    way = TellingWay()

    def look_again(_tx: Transaction, postings: Sequence[Posting]) -> dict[str, str]:
        return {"P0002": "its owner no longer has the unit"} if "P0002" in ids_of(postings) else {}

    sent = send(world, way, a_plan(clock, look_again=look_again))
    withdrawn = posting(world, "P0002")

    assert (sent.handed_over, sent.withdrawn) == (1, 1)
    assert (withdrawn.state, withdrawn.why) == (PostingState.WITHDRAWN, "its owner no longer has the unit")
    assert (len(way.parcels), tries_of(world, "P0002")) == (1, [])


def test_one_message_that_cannot_be_made_holds_up_no_other(world: World, clock: Clock) -> None:
    fill(world, 3)

    def message(one: Posting, date: datetime) -> Parcel:
        if one.posting_id == "P0003":
            raise KeyError("link")
        return sending_world.message(one, date)

    sent = send(world, TellingWay(), a_plan(clock, messages=lambda _tx, _postings: message))

    assert (sent.handed_over, sent.refused) == (2, 1)
    assert posting(world, "P0003").why == "the message could not be made (KeyError)"


def test_a_refused_address_is_marked_and_the_owner_stays_reachable_otherwise(
    world: World, clock: Clock
) -> None:
    fill(world, 1)
    send(world, TellingWay([GONE]), a_plan(clock))
    with world.register.look() as tx:
        contact = tx.people.contacts(["O0001"])["O0001"][0]

    assert posting(world, "P0001").state is PostingState.REFUSED
    assert contact.fault == "refused-5.1.1"
    assert kinds(world, "owner:O0001") == ["contact_failed"]


def test_a_refusal_by_policy_marks_no_address(world: World, clock: Clock) -> None:
    fill(world, 2)
    sent = send(world, TellingWay([POLICY, TAKEN]), a_plan(clock))
    with world.register.look() as tx:
        faults = [row.fault for rows in tx.people.contacts().values() for row in rows]

    assert (sent.refused, sent.handed_over, faults) == (1, 1, [None, None])
    assert posting(world, "P0002").why == "554 5.7.1 policy"


def test_ten_refusals_by_policy_in_a_row_stop_the_run(world: World, clock: Clock) -> None:
    fill(world, 12)
    sent = send(world, TellingWay([POLICY]), a_plan(clock))

    assert (sent.refused, sent.waiting, sent.finished) == (10, 2, False)
    assert sent.stopped_because.startswith("10 messages in a row were refused")


def test_dead_mailboxes_do_not_stop_the_run(world: World, clock: Clock) -> None:
    fill(world, 12)

    assert send(world, TellingWay([GONE]), a_plan(clock)) == Sent(refused=12)


def test_what_is_put_off_goes_half_an_hour_later_with_the_same_bytes(world: World, clock: Clock) -> None:
    fill(world, 1)
    way = TellingWay([LATER, TAKEN])
    first = send(world, way, a_plan(clock))
    too_early = send(world, way, a_plan(clock))
    clock.at = START + 30 * MINUTE
    second = send(world, way, a_plan(clock))

    assert first == Sent(later=1, waiting=1, next_at=START + 30 * MINUTE)
    assert too_early == Sent(waiting=1, next_at=START + 30 * MINUTE)
    assert second == Sent(handed_over=1)
    assert way.parcels[0] == way.parcels[1]


def test_a_stop_in_doubt_goes_once_more_with_the_same_bytes_and_never_a_third_time(
    world: World, clock: Clock
) -> None:
    fill(world, 1)
    way = TellingWay([DOUBT])
    first = send(world, way, a_plan(clock))
    clock.at += 29 * MINUTE
    too_early = send(world, way, a_plan(clock))
    clock.at += MINUTE
    second = send(world, way, a_plan(clock))
    clock.at += timedelta(days=1)
    third = send(world, way, a_plan(clock))

    assert first == Sent(in_doubt=1, next_at=START + 30 * MINUTE)
    assert too_early == Sent(next_at=START + 30 * MINUTE)
    assert second == Sent(in_doubt=1)
    assert third == Sent()
    assert (len(way.parcels), way.parcels[0]) == (2, way.parcels[1])
    assert states(world) == {"in_doubt": 1}


def test_a_reminder_in_doubt_is_not_sent_again(world: World, clock: Clock) -> None:
    fill(world, 1, occasion="remind/mail-again")
    way = TellingWay([DOUBT])
    sent = send(world, way, a_plan(clock))
    clock.at += timedelta(days=1)
    send(world, way, a_plan(clock))

    assert (len(way.parcels), sent.next_at) == (1, None)


def test_a_doubt_that_would_be_withdrawn_stays_a_doubt(world: World, clock: Clock) -> None:
    fill(world, 1)
    way = TellingWay([DOUBT])
    send(world, way, a_plan(clock))
    clock.at += 31 * MINUTE
    send(
        world,
        way,
        a_plan(clock, look_again=lambda _tx, some: dict.fromkeys(ids_of(some), ANOTHER)),
    )

    assert len(way.parcels) == 1
    assert posting(world, "P0001").state is PostingState.IN_DOUBT
    assert posting(world, "P0001").why == "in doubt, and not sent once more: another notice is owed now"


@pytest.mark.parametrize("occasion", ["stop", "remind/mail-again"])
def test_a_way_that_can_tell_settles_a_doubt_at_once(world: World, clock: Clock, occasion: str) -> None:
    fill(world, 2, occasion=occasion)
    way = TellingWay([DOUBT, DOUBT, TAKEN], known=lambda message_id: message_id == "<p0001@aldmere.example>")
    send(world, way, a_plan(clock))
    sent = send(world, way, a_plan(clock))

    assert sent == Sent(handed_over=2)
    assert [one.message_id[1:6] for one in way.parcels] == ["p0002", "p0001", "p0002"]
    assert kinds(world, "unit:U0001")[-1] == "notice_handed_over"


def test_a_wrong_password_stops_the_run_before_any_try(world: World, clock: Clock) -> None:
    fill(world, 3)
    way = TellingWay(opens=["the server does not accept this password; correct it"])
    sent = send(world, way, a_plan(clock))

    assert sent == Sent(
        waiting=3, stopped_because="the server does not accept this password; correct it", finished=False
    )
    assert (way.opened, tries_of(world, "P0001")) == (1, [])


def test_a_password_refused_in_the_middle_stops_the_run_and_costs_nobody(world: World, clock: Clock) -> None:
    fill(world, 3)
    stop = Outcome(result="stop", code=530, enhanced="5.7.0", reply="5.7.0 authentication required")
    sent = send(world, TellingWay([TAKEN, stop]), a_plan(clock))

    assert sent == Sent(
        handed_over=1, waiting=2, stopped_because="530 5.7.0 authentication required", finished=False
    )
    assert posting(world, "P0002").not_before is None


def test_a_server_that_is_away_is_called_again_and_the_rest_goes(world: World, clock: Clock) -> None:
    fill(world, 3)
    way = TellingWay([LOST, TAKEN], opens=["", "-", "-", ""])
    sent = send(world, way, a_plan(clock))

    assert (sent.later, sent.handed_over, sent.stopped_because) == (1, 2, DONE)
    assert clock.at == START + timedelta(seconds=5 + 15)


def test_a_server_that_stays_away_ends_the_run_with_a_time_to_come_back(world: World, clock: Clock) -> None:
    fill(world, 3)
    sent = send(world, TellingWay([LOST], opens=["", "-"]), a_plan(clock))

    assert (sent.later, sent.waiting, sent.finished, sent.stopped_because) == (1, 3, False, "-")
    assert sent.next_at == clock.at + 5 * MINUTE


def test_a_server_that_dies_of_each_message_is_left_alone(world: World, clock: Clock) -> None:
    fill(world, 9)
    sent = send(world, TellingWay([LOST]), a_plan(clock))

    assert (sent.later, sent.waiting, sent.finished) == (5, 9, False)
    assert sent.stopped_because.startswith("the connection was lost 5 times in a row")


def test_the_pace_holds_over_all_connections(world: World, clock: Clock) -> None:
    fill(world, 4)
    at: list[datetime] = []
    way = TellingWay(during=lambda _parcel: at.append(clock.at))
    send(world, way, a_plan(clock, pace=Pace(text="30/min", gap=2.0), connections=3))

    assert [(one - START).total_seconds() for one in at] == [0, 2, 4, 6]


def test_connections_work_side_by_side(world: World, clock: Clock) -> None:
    fill(world, 4)
    together = Barrier(4, timeout=30)
    way = TellingWay(during=lambda _parcel: ignore(together.wait()))

    assert send(world, way, a_plan(clock, connections=4)) == Sent(handed_over=4)


def ignore(_turn: int) -> None:
    """Make nothing of which thread came when."""


def test_a_server_that_allows_one_connection_serves_all_the_same(world: World, clock: Clock) -> None:
    fill(world, 4)

    assert send(world, TellingWay(opens=["", "-"]), a_plan(clock, connections=3)) == Sent(handed_over=4)


def test_asked_to_stop_it_finishes_what_is_going_out_and_gives_the_rest_back(
    world: World, clock: Clock
) -> None:
    fill(world, 5)
    way = TellingWay()
    sent = send(
        world, way, a_plan(clock, halted=lambda: "stopped by Ctrl-C" if len(way.parcels) >= 2 else None)
    )
    with world.register.look() as tx:
        left = [
            one for one in tx.outbox.postings(state=PostingState.WAITING) if one.worker or one.lease_until
        ]
        run = tx.record.runs()[-1]

    assert sent == Sent(handed_over=2, waiting=3, stopped_because="stopped by Ctrl-C", finished=False)
    assert (left, run.state, run.why) == ([], "ended", "stopped by Ctrl-C")
    assert states(world) == {"waiting": 3, "handed_over": 2}


def test_a_run_has_a_row_and_its_events(world: World, clock: Clock) -> None:
    fill(world, 1)
    send(world, TellingWay(), a_plan(clock))
    send(world, TellingWay(), a_plan(clock))
    with world.register.look() as tx:
        runs = tx.record.runs()
        events = [(one.kind, dict(one.payload)) for one in tx.events.stream("campaign")]

    assert [(one.run_id, one.worker, one.begun_by, one.pace, one.state, one.why) for one in runs] == [
        (number, "here:1:a", "Mara Lind", "none", "ended", DONE) for number in ("000001", "000002")
    ]
    assert events == [
        (kind, {"run": number} | why)
        for number in ("000001", "000002")
        for kind, why in (("run_begun", {}), ("run_ended", {"why": "done"}))
    ]


def _want(world: World, wanted: str) -> None:
    with world.register.change() as tx:
        tx.record.put_run(replace(tx.record.runs()[-1], wanted=wanted))


def test_a_run_pauses_and_goes_on_as_its_row_says(world: World, clock: Clock) -> None:
    fill(world, 40)
    beats: list[tuple[float, str]] = []

    def sleep(seconds: float) -> None:
        clock.sleep(seconds)
        second = (clock.at - START).total_seconds()
        if second in {20.0, 100.0}:
            _want(world, "pause" if second == 20 else "go")

    def seen(_one: Posting, _outcome: Outcome) -> None:
        beats.append(((clock.at - START).total_seconds(), "out"))

    sent = send(world, TellingWay(), a_plan(clock, sleep=sleep, seen=seen, pace=Pace(text="60/min", gap=1.0)))

    assert sent == Sent(handed_over=40)
    assert not [one for one in beats if 45 < one[0] < 100]


def test_a_run_stops_as_its_row_says(world: World, clock: Clock) -> None:
    fill(world, 100)

    def sleep(seconds: float) -> None:
        clock.sleep(seconds)
        if (clock.at - START).total_seconds() == 20:
            _want(world, "stop")

    sent = send(world, TellingWay(), a_plan(clock, sleep=sleep, pace=Pace(text="60/min", gap=1.0)))

    assert (sent.stopped_because, sent.finished) == ("the run was told to stop", False)
    assert sent.handed_over + sent.waiting == 100


def _begin_elsewhere(world: World, worker: str, lease: datetime) -> None:
    with world.register.change() as tx:
        tx.outbox.claim(worker, channel="email", now=world.now(), lease_until=lease, limit=2)
        tx.outbox.begin(Try(posting_id="P0002", n=1, began_at=world.now()))


def test_a_living_senders_tries_and_leases_are_not_touched(world: World, clock: Clock) -> None:
    fill(world, 2)
    _begin_elsewhere(world, "elsewhere:1:x", START + 15 * MINUTE)
    clock.at += 14 * MINUTE
    sent = send(world, TellingWay(), a_plan(clock))

    assert (sent.handed_over, sent.waiting) == (0, 1)
    assert states(world) == {"waiting": 1, "trying": 1}


def test_a_try_whose_lease_has_run_out_is_in_doubt(world: World, clock: Clock) -> None:
    fill(world, 2)
    _begin_elsewhere(world, "elsewhere:1:x", START + 15 * MINUTE)
    clock.at += 15 * MINUTE
    sent = send(world, TellingWay(), a_plan(clock))

    assert (sent.handed_over, sent.next_at) == (1, clock.at + 30 * MINUTE)
    assert states(world) == {"handed_over": 1, "in_doubt": 1}
    assert tries_of(world, "P0002")[0].outcome == "in_doubt"


def test_what_a_process_of_this_machine_left_is_taken_over_at_once(world: World, clock: Clock) -> None:
    fill(world, 2)
    _begin_elsewhere(world, "here:7:gone", START + 15 * MINUTE)
    sent = send(world, TellingWay(), a_plan(clock, gone=lambda worker: worker == "here:7:gone"))

    assert sent.handed_over == 1
    assert states(world) == {"handed_over": 1, "in_doubt": 1}


def test_a_machine_that_slept_through_its_lease_still_says_what_it_knows(
    world: World, clock: Clock, tmp_path: Path
) -> None:
    fill(world, 1)

    def sleeps(_parcel: Parcel) -> None:
        clock.at += 20 * MINUTE
        other = a_world(tmp_path, clock)
        send(other, TellingWay(), a_plan(clock, worker="elsewhere:2:b"))
        other.register.close()

    sent = send(world, TellingWay([TAKEN], during=sleeps), a_plan(clock))

    assert sent.handed_over == 1
    assert states(world) == {"handed_over": 1}


def test_a_machine_that_slept_gives_back_nothing_that_another_has_sent_meanwhile(
    world: World, clock: Clock, tmp_path: Path
) -> None:
    fill(world, 3)
    both = TellingWay()

    def sleeps(parcel: Parcel) -> None:
        if parcel is both.parcels[0] and len(both.parcels) == 1:
            clock.at += 20 * MINUTE
            other = a_world(tmp_path, clock)
            send(other, both, a_plan(clock, worker="elsewhere:2:b"))
            other.register.close()

    both.during = sleeps
    sent = send(world, both, a_plan(clock, halted=lambda: "stopped by Ctrl-C" if both.parcels else None))
    send(world, both, a_plan(clock))

    assert (sent.handed_over, sent.waiting, len(both.parcels)) == (1, 0, 3)
    assert states(world) == {"handed_over": 3}


def test_two_senders_at_once_send_nothing_twice(world: World, clock: Clock, tmp_path: Path) -> None:
    fill(world, 30)
    other = a_world(tmp_path, clock)
    both = TellingWay()
    before = len(both.parcels)

    def second(_one: Posting, _outcome: Outcome) -> None:
        if len(both.parcels) == before + 3:
            send(other, both, a_plan(clock, worker="here:2:b"))

    send(world, both, a_plan(clock, seen=second))
    other.register.close()

    assert Counter(Counter(one.message_id for one in both.parcels).values()) == {1: 30}
    assert states(world) == {"handed_over": 30}


def test_over_a_real_connection_each_posting_ends_as_the_server_says(world: World, clock: Clock) -> None:
    fill(world, 6)
    script = Script(
        rcpt=("250 fine", "550 5.1.1 no such user", "554 5.7.1 policy", "452 4.2.2 full", "250 fine"),
        final=("250 2.0.0 queued", "554 5.5.1 no recipient", "554 5.5.1 no recipient", "554 5.5.1 no recipient",
               DROP, "250 2.0.0 queued"),
    )  # fmt: skip
    with ScriptedServer(script) as server:
        way = SmtpWay(MailSettings(host="127.0.0.1", port=server.port, security="none"), None)
        sent = send(world, way, a_plan(clock))

    assert (sent.handed_over, sent.refused, sent.later, sent.in_doubt) == (2, 2, 1, 1)
    assert states(world) == {"waiting": 1, "handed_over": 2, "refused": 2, "in_doubt": 1}


KILLED = """
import sys, time
from pathlib import Path
from datetime import UTC, datetime
from notices.sending import workers
from notices.sending.folder import FolderWay
from notices.work.sending import send
from tests.sending_world import Clock, a_plan, a_world
folder = Path(sys.argv[1])
clock = Clock()
world = a_world(folder, clock)
send(world, FolderWay(folder / "mail"), a_plan(
    clock, worker=workers.name(), gone=workers.is_gone, connections=3, sleep=time.sleep))
"""


def test_a_sender_killed_in_the_middle_and_begun_again_serves_everybody_exactly_once(
    tmp_path: Path, clock: Clock, world: World
) -> None:
    ids = fill(world, 400)
    mail = tmp_path / "mail"
    kills = 0
    for enough in (40, 120, 220):
        with subprocess.Popen([sys.executable, "-c", KILLED, str(tmp_path)]) as sender:
            while sender.poll() is None and (not mail.exists() or len(list(mail.iterdir())) < enough):
                time.sleep(0.002)
            sender.kill()
            kills += sender.wait() == -9
    left = states(world)
    written = {one.name: one.stat().st_mtime_ns for one in mail.glob("*.eml")}
    sent = send(world, FolderWay(mail), a_plan(clock, worker=workers.name(), gone=workers.is_gone))

    assert kills == 3
    assert left.get("trying", 0) + left.get("in_doubt", 0) <= 3
    assert sent.finished
    assert states(world) == {"handed_over": 400}
    assert sorted(one.name for one in mail.iterdir()) == [f"{one.lower()}@aldmere.example.eml" for one in ids]
    # nobody's message was written a second time
    assert {name: (mail / name).stat().st_mtime_ns for name in written} == written
    with world.register.look() as tx:
        told = Counter(
            event.stream
            for stream in tx.events.streams("unit:")
            for event in stream
            if event.kind == "notice_handed_over"
        )
        doubts = Counter(one.outcome for one in tx.record.tries())
    assert set(told.values()) == {1}
    assert len(told) == 400
    assert doubts["in_doubt"] <= 9  # three connections, three kills


class _Stumbles:
    """A register that is busy when it is told to be."""

    def __init__(self, register: Register) -> None:
        self._register = register
        self.busy = 0

    def change(self) -> AbstractContextManager[Transaction]:
        if self.busy:
            self.busy -= 1
            raise RegisterError("the register is busy")
        return self._register.change()

    def look(self) -> AbstractContextManager[Transaction]:
        return self._register.look()

    def close(self) -> None:
        self._register.close()


def test_a_register_that_is_busy_for_a_moment_makes_no_known_outcome_a_doubt(
    world: World, clock: Clock
) -> None:
    fill(world, 3)
    register = _Stumbles(world.register)

    def busy(_parcel: Parcel) -> None:
        register.busy = 2

    way = TellingWay(during=busy)
    sent = send(replace(world, register=register), way, a_plan(clock))

    assert sent == Sent(handed_over=3)
    assert (len(way.parcels), states(world)) == (3, {"handed_over": 3})


def test_a_register_that_fails_for_good_is_said_and_leaves_one_doubt_a_connection(
    world: World, clock: Clock
) -> None:
    fill(world, 3)
    register = _Stumbles(world.register)

    def broken(_parcel: Parcel) -> None:
        register.busy = 1000

    with pytest.raises(RegisterError):
        send(replace(world, register=register), TellingWay(during=broken), a_plan(clock))
    clock.at += 15 * MINUTE
    again = send(world, TellingWay(), a_plan(clock))

    assert (again.handed_over, again.next_at) == (2, clock.at + 30 * MINUTE)
    assert states(world) == {"handed_over": 2, "in_doubt": 1}


def test_a_fault_of_ours_loses_no_outcome_and_gives_the_leases_back(world: World, clock: Clock) -> None:
    fill(world, 5)

    def look_again(_tx: Transaction, postings: Sequence[Posting]) -> dict[str, str]:
        if "P0003" in ids_of(postings):
            raise RuntimeError("a fault of ours")
        return {}

    with pytest.raises(RuntimeError, match="a fault of ours"):
        send(world, TellingWay(), a_plan(clock, look_again=look_again))
    with world.register.look() as tx:
        leased = [one for one in tx.outbox.postings() if one.lease_until]
        run = tx.record.runs()[-1]

    assert (states(world), leased) == ({"waiting": 3, "handed_over": 2}, [])
    assert (run.state, run.why) == ("ended", "stopped by a fault of this program")


def test_an_interruption_ends_the_run_in_order(world: World, clock: Clock) -> None:
    fill(world, 3)

    def sleep(_seconds: float) -> None:
        raise KeyboardInterrupt

    sent = send(world, TellingWay(), a_plan(clock, sleep=sleep, pace=Pace(text="30/min", gap=2.0)))

    assert sent == Sent(handed_over=1, waiting=2, stopped_because="stopped by Ctrl-C", finished=False)


def test_no_personal_value_is_in_the_events_of_a_run(world: World, clock: Clock) -> None:
    fill(world, 2)
    said = Outcome(result="stop", code=553, reply="5.7.1 <owner1@owner.example> is not yours")
    send(world, TellingWay([TAKEN, said]), a_plan(clock))
    with world.register.look() as tx:
        payloads = [str(event.payload) for stream in tx.events.streams("") for event in stream]

    assert [one for one in payloads if re.search(r"owner\d@", one)] == []
