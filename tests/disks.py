"""Real file systems for tests: small ones that run full, and ones that can only be read."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests import needs

_ROOM = 4096


@contextmanager
def a_disk(place: Path, *, kilobytes: int = 1024) -> Iterator[Path]:
    """Mount a disk of so many kilobytes in memory at *place*, and take it away afterwards."""
    if sys.platform != "linux" or shutil.which("mount") is None:
        needs.missing("a disk of a test's own is mounted on Linux")
    if os.geteuid() != 0:
        needs.missing("a disk of a test's own is mounted as root alone; run these tests in a container")
    place.mkdir(parents=True, exist_ok=True)
    asked = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", str(place)],
        capture_output=True,
        check=False,
    )
    if asked.returncode != 0:
        needs.missing("this container may not mount a disk (it needs CAP_SYS_ADMIN)")
    try:
        yield place
    finally:
        subprocess.run(["umount", "--lazy", str(place)], check=True, capture_output=True)


def remount(place: Path, options: str) -> None:
    """Mount the disk anew with *options*, as in ``size=8m`` or ``ro``."""
    subprocess.run(["mount", "-o", f"remount,{options}", str(place)], check=True, capture_output=True)


def fill_up(place: Path, *, leave: int = 0) -> Path:
    """Write a file that takes all the room of a disk but *leave* bytes; return it."""
    file = place / "ballast"
    with file.open("wb") as ballast:
        free = os.statvfs(place).f_bavail * os.statvfs(place).f_frsize - leave
        for _ in range(max(free, 0) // _ROOM):
            ballast.write(b"\0" * _ROOM)
    return file
