"""One sheet of a workbook through a process apart; what ends that process is a reason, never an end of ours."""

import json
import subprocess
import sys
from pathlib import Path

import notices
from audiences.archives import SheetMarks
from audiences.workbooks import Sheet, SheetRow
from notices.spreadsheets.child import MOST_SECONDS

_PLACE = Path(notices.__file__).resolve().parent.parent
_RUN = "import sys; sys.path.insert(0, sys.argv[1]); from notices.spreadsheets.child import main; main()"


def read_sheet(data: bytes, wanted: str = "", *, seconds: float = MOST_SECONDS) -> Sheet:
    """Read the sheet called *wanted*, else the first that is visible and holds something.

    A workbook that breaks the reader is *refused* as ``corrupt``; one that has it killed, by the memory or the time
    that it takes, as ``too-large``.
    """
    request = json.dumps({"sheet": wanted}).encode() + b"\n"
    try:
        done = subprocess.run(  # noqa: S603 - our own module, by this interpreter; the workbook is its input only
            [sys.executable, "-P", "-c", _RUN, str(_PLACE)],
            input=request + data,
            capture_output=True,
            check=True,
            timeout=seconds,
        )
        return from_json(done.stdout)
    except subprocess.CalledProcessError as fault:
        return Sheet(refused="too-large" if fault.returncode < 0 else "corrupt")
    except subprocess.TimeoutExpired:
        return Sheet(refused="too-large")


def from_json(text: bytes) -> Sheet:
    """Read what `child.as_json` wrote; ValueError, KeyError or TypeError where it is something else."""
    found = json.loads(text)
    marks = found["marks"]
    return Sheet(
        name=found["name"],
        others=tuple(found["others"]),
        refused=found["refused"],
        merged=tuple((top, left, bottom, right) for top, left, bottom, right in found["merged"]),
        marks=SheetMarks(hidden=tuple(marks["hidden"]), valueless=tuple(marks["valueless"])),
        rows=tuple(
            SheetRow(number=number, cells=tuple(cells), stored=stored)
            for number, cells, stored in found["rows"]
        ),
    )
