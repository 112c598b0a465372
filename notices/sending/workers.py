"""The name of a sending process, and whether the process that bore a name is gone."""

import os
import socket
from pathlib import Path

_PARTS = 3


def name() -> str:
    """Return ``machine:pid:start`` of this process, unique even where its number is given out again."""
    return f"{_machine()}:{os.getpid()}:{_start(os.getpid()) or 'unknown'}"


def is_gone(worker: str) -> bool:
    """Say whether *worker* was a process of this machine that no longer runs.

    False wherever that is not certain: another machine, a container with processes of its own, a system that
    does not tell. Then only the lease decides.
    """
    parts = worker.split(":")
    if os.name != "posix" or len(parts) != _PARTS or parts[0] != _machine() or not parts[1].isdecimal():
        return False
    pid = int(parts[1])
    try:
        os.kill(pid, 0)  # signal 0 asks and sends nothing; on Windows it would end the process
    except ProcessLookupError:
        return True
    except (OSError, OverflowError):
        return False
    start = _start(pid)
    if start is None or parts[2] == "unknown":
        return False
    return start != parts[2] or _is_dead(pid)


def _machine() -> str:
    """Name the machine and, where there are such, the namespace in which its process numbers count."""
    try:
        namespace = Path("/proc/self/ns/pid").readlink().name
    except OSError:
        namespace = ""
    digits = "".join(sign for sign in namespace if sign.isdecimal())
    host = socket.gethostname().replace(":", "-")
    return f"{host}/{digits}" if digits else host


def _is_dead(pid: int) -> bool:
    """Say whether a process has ended and only waits for its parent to hear of it (Linux: proc(5), states Z and X)."""
    return _fields(pid)[:1] in (["Z"], ["X"])


def _fields(pid: int) -> list[str]:
    """Return what stands behind the program's name in ``/proc/PID/stat``; the name may hold anything."""
    try:
        status = Path(f"/proc/{pid}/stat").read_text("utf-8", "replace")
    except OSError:
        return []
    return status.rpartition(")")[2].split()


def _start(pid: int) -> str | None:
    """Return boot and clock tick at which a process began, None where the system does not tell (Linux: proc(5))."""
    fields = _fields(pid)
    try:
        boot = Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    except OSError:
        return None
    # The start is the 22nd field of proc(5), the 20th behind the name.
    return f"{boot.partition('-')[0]}-{fields[19]}" if fields else None
