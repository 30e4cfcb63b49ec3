"""What holds for every test: a busy machine never fails a property test, and nothing is cached."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "any-machine",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("any-machine")
os.environ["HOUSEMAP_CACHE_DIR"] = os.devnull
