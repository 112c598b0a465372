"""Whether a sending process is gone: only where that is certain."""

import os
import signal
import subprocess
import sys

from notices.sending import workers


def _ask_another_process() -> str:
    code = "from notices.sending import workers; print(workers.name())"
    return subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True
    ).stdout.strip()


def test_a_process_that_ended_is_gone() -> None:
    assert workers.is_gone(_ask_another_process())


def test_a_living_process_is_not_gone() -> None:
    code = (
        "import sys; from notices.sending import workers; print(workers.name(), flush=True); sys.stdin.read()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as other:
        assert other.stdout is not None
        name = other.stdout.readline().strip()
        living = workers.is_gone(name)
        other.kill()
        other.wait()

    assert not living
    assert workers.is_gone(name)


def test_a_process_number_given_out_again_is_another_process() -> None:
    machine, pid, start = workers.name().split(":")

    assert not workers.is_gone(f"{machine}:{pid}:{start}")
    assert workers.is_gone(f"{machine}:{pid}:{start}1")


def test_nothing_is_claimed_of_another_machine_or_a_strange_name() -> None:
    _, pid, start = workers.name().split(":")
    machine = workers.name().partition(":")[0]
    strange = [
        f"elsewhere:{pid}:x",
        "",
        "a",
        f"{machine}:-1:{start}",
        f"{machine}:x:{start}",
        f"{machine}:{10**30}:{start}",
    ]

    assert [workers.is_gone(one) for one in strange] == [False] * len(strange)


def test_a_name_tells_the_process() -> None:
    assert workers.name().split(":")[1] == str(os.getpid())


def test_a_process_that_has_ended_and_that_nobody_has_asked_about_is_gone() -> None:
    with subprocess.Popen(
        [
            sys.executable,
            "-c",
            "from notices.sending import workers; print(workers.name(), flush=True); input()",
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        name = process.stdout.readline().strip()
        alive = workers.is_gone(name)
        os.kill(process.pid, signal.SIGKILL)
        os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOWAIT)
        dead = workers.is_gone(name)

    assert (alive, dead) == (False, True)
