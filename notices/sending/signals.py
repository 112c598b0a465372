"""A person or the system asks the run to stop: it ends after the message that is going out."""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

_WHY = {signal.SIGINT: "stopped by Ctrl-C", signal.SIGTERM: "stopped by the system (SIGTERM)"}


@contextmanager
def asked_to_stop() -> Iterator[Callable[[], str | None]]:
    """Yield a question that answers why the run is to stop, None while it may go on.

    Holds in the main thread; a second Ctrl-C interrupts at once, and what was going out is then in doubt.
    """
    heard: list[str] = []

    def note(number: int, _frame: FrameType | None) -> None:
        if heard:
            raise KeyboardInterrupt
        heard.append(_WHY[signal.Signals(number)])

    before = {number: signal.signal(number, note) for number in _WHY}
    try:
        yield lambda: heard[0] if heard else None
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
