"""The typed campaign: what the lead writes, read with the line of every key, checked and compared."""
