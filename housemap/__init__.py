"""housemap: plan the paint of a whole house, room by room and sightline by sightline."""

import os

__version__ = "0.1.0"

# Matrices here are small: shared among threads they take three times the processor time, and the
# core on which keys are answered. Read by numpy when it is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
