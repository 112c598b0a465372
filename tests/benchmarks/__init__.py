"""How fast the product is beside the fastest bare way known of doing the same; ``python -m tests.benchmarks``."""
