"""Warn and serve the owners of a faulty product, until every unit is accounted for."""

__version__ = "0.1.0"
