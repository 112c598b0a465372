"""What every test may ask for: a browser, a register, a desk with commands."""

from tests.browser import axe_source, chromium
from tests.commands import desk
from tests.demo_runs import told, told_otherwise, told_to_the_end
from tests.registers import address, register

__all__ = [
    "address",
    "axe_source",
    "chromium",
    "desk",
    "register",
    "told",
    "told_otherwise",
    "told_to_the_end",
]
