"""What every test may ask for: a browser, and the readers of the source tree."""

from tests.browser import axe_source, chromium

__all__ = ["axe_source", "chromium"]
