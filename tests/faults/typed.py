"""The command as a person types it, but that nobody waits: whatever would sleep a second has slept."""

import time
from typing import SupportsIndex

from notices.cli.__main__ import main

_sleep = time.sleep


def _hardly(seconds: float | SupportsIndex) -> None:
    _sleep(min(float(seconds), 0.001))


if __name__ == "__main__":
    time.sleep = _hardly
    main()
