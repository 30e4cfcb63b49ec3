"""Benchmarks; like the program, without threads in linear algebra (`housemap.cli.main`)."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
