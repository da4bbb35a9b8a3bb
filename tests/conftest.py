"""What holds for every test: none depends on how fast the machine is, nor on its country."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# Days, times and money are written as in the United States, whatever the machine's own locale is.
os.environ["LC_ALL"] = "en_US.UTF-8"

settings.register_profile(
    "joblog",
    deadline=None,
    # The one health check that goes by the clock.
    suppress_health_check=[HealthCheck.too_slow],
    # Where nobody is there to look at a new counter-example, the same examples each time.
    derandomize="CI" in os.environ,
    # There they are the same each time, and half as many tell as much; at home they differ.
    max_examples=50 if "CI" in os.environ else 100,
    print_blob=True,
)
settings.load_profile("joblog")
