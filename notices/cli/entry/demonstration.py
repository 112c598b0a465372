"""The demo, run into a folder of its own."""

from notices.demo.run import run

__all__ = ["run"]
