"""Write although the register is busy for a moment: what is known must not become a doubt."""

from collections.abc import Callable
from typing import TypeVar

from notices.cases.outgoing import RegisterError
from notices.work.ports import Register, Transaction

_PAUSES = (1.0, 5.0)
Result = TypeVar("Result")


def changed(
    register: Register, change: Callable[[Transaction], Result], *, sleep: Callable[[float], None]
) -> Result:
    """Do *change* in a transaction, again after 1 and 5 seconds; raise the third RegisterError."""
    for pause in _PAUSES:
        try:
            with register.change() as tx:
                return change(tx)
        except RegisterError:
            sleep(pause)
    with register.change() as tx:
        return change(tx)
