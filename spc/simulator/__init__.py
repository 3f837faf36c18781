"""A make-believe shop with known truth, for demo data, tests and benchmarks; policies come in as functions."""
