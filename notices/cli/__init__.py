"""The commands: each reads its options, calls one use case and prints what came of it."""
