"""What every test may ask for: a browser, a register, and the readers of the source tree."""

from tests.browser import axe_source, chromium
from tests.registers import address, register

__all__ = ["address", "axe_source", "chromium", "register"]
