"""The use cases, one function a verb; the only place where a transaction begins and ends."""
