"""Figures against peers, measured in one run. Each module is started by hand: see docs/benchmarks.md."""
