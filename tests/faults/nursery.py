"""A process that has read the program once and bears one sending process after the other.

A line of JSON on its input is a job; its output says the number of the process that does it, then how it ended.
"""

import json
import os
import sys
import traceback
from pathlib import Path

from notices import assembly
from notices.settings import Settings
from tests.faults import sender
from tests.faults.sender import Job


def _say(**what: object) -> None:
    sys.stdout.write(json.dumps(what) + "\n")
    sys.stdout.flush()


def _bear(job: Job) -> None:
    """Let a child do *job*; say its number at once and its end once it is gone."""
    child = os.fork()
    if child == 0:
        status = 70
        try:
            status = sender.run(job)
        except BaseException:  # noqa: BLE001 - whatever it was, the child ends here and the harness hears of it
            Path(job.result).with_suffix(".fault").write_text(traceback.format_exc(), "utf-8")
        os._exit(status)
    _say(say="born", pid=child)
    _, ended = os.waitpid(child, 0)
    _say(say="ended", pid=child, status=os.waitstatus_to_exitcode(ended))


def main() -> None:
    """Read the program, compose once from the folder named as argument, then bear until the input ends."""
    folder = Path(sys.argv[1])
    with assembly.opened(folder, Settings()) as world:
        sender.warm(world)
    _say(say="ready")
    for line in sys.stdin:
        _bear(Job(**json.loads(line)))


if __name__ == "__main__":
    main()
