"""Where a register may lie: SQLite's write-ahead log asks for a disk of this machine.

https://www.sqlite.org/wal.html: "All processes using a database must be on the same host computer; WAL does not
work over a network filesystem."
"""

import re
from pathlib import Path

MOUNTS = Path("/proc/self/mounts")

# Types of file system as Linux names them (filesystems(5), mount(8)) that lie on another machine.
NETWORK = frozenset(
    {
        "afs",
        "ceph",
        "cifs",
        "davfs",
        "gfs2",
        "glusterfs",
        "lustre",
        "ncpfs",
        "nfs",
        "nfs4",
        "ocfs2",
        "smb3",
        "smbfs",
    }
)
_BY_A_PROGRAM = "fuse."
_ESCAPED = re.compile(r"\\([0-7]{3})")


def kind_of(path: Path, mounts: Path = MOUNTS) -> str:
    """Return the type of the file system that *path* lies on; empty where the system does not tell (Linux: proc(5))."""
    try:
        text = mounts.read_text("utf-8", "surrogateescape")
    except OSError:
        return ""
    whole = path.absolute().resolve()
    best, kind = -1, ""
    for line in text.splitlines():
        fields = line.split(" ")
        if len(fields) < 3:  # noqa: PLR2004 - device, place, type
            continue
        place = Path(_ESCAPED.sub(lambda found: chr(int(found[1], 8)), fields[1]))
        if (whole == place or place in whole.parents) and len(place.parts) >= best:
            best, kind = len(place.parts), fields[2]
    return kind


def is_network(kind: str) -> bool:
    """Say whether files of this type lie on another machine."""
    return kind in NETWORK


def is_doubtful(kind: str) -> bool:
    """Say whether a program brings these files: perhaps from a network, perhaps kept in step with other machines."""
    return kind.startswith(_BY_A_PROGRAM)
