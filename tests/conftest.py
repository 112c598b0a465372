"""What every test may ask for: a browser, a register, a desk with commands; and how many run at once."""

import os

import pytest

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


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Run the whole suite on every processor; the few tests that somebody names run in this process, sooner."""
    if config.args == config.getini("testpaths"):
        return os.cpu_count() or 1
    config.option.dist = "no"
    return 0
