"""Kill the sender where it hurts, again and again, and hold what is left against the laws of sending."""
