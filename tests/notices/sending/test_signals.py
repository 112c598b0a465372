"""Ctrl-C and SIGTERM as a question, not an interruption."""

import os
import signal

import pytest

from notices.sending.signals import asked_to_stop


@pytest.mark.parametrize(
    ("number", "why"),
    [(signal.SIGINT, "stopped by Ctrl-C"), (signal.SIGTERM, "stopped by the system (SIGTERM)")],
)
def test_a_signal_is_noted_and_the_old_handler_comes_back(number: signal.Signals, why: str) -> None:
    before = signal.getsignal(number)
    with asked_to_stop() as why_stop:
        calm = why_stop()
        os.kill(os.getpid(), number)
        heard = why_stop()

    assert (calm, heard) == (None, why)
    assert signal.getsignal(number) is before


def test_a_second_ctrl_c_interrupts() -> None:
    with asked_to_stop():
        os.kill(os.getpid(), signal.SIGINT)

        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGINT)
