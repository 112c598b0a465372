"""What the system says of a file that cannot be had, as one sentence with the way out."""

import errno
from collections.abc import Mapping

_FULL = "the disk is full, and what was written before stays as it was; make room, then do it again"
_RIGHTS = "this account may not write there; give it the right to, or choose another folder"

_WAYS_OUT: Mapping[int, str] = {
    errno.ENOSPC: _FULL,
    errno.EDQUOT: _FULL,
    errno.EROFS: "the disk can only be read; connect it so that it can be written, or choose another folder",
    errno.EACCES: _RIGHTS,
    errno.EPERM: _RIGHTS,
    errno.ENOENT: "there is no such file or folder; see that its name is right",
    errno.EIO: "the disk could not be read or written; copy what you can to another one",
}


def sentence(fault: OSError) -> str:
    """Return the place and what to do; the system's own words where nothing better is known."""
    place = f"{fault.filename}: " if fault.filename else ""
    words = _WAYS_OUT.get(fault.errno or 0) or fault.strerror or str(fault)
    return f"{place}{words}"
