"""Workbooks, read in a process of their own: a hostile sheet can end the native reader, and must end nothing else."""
