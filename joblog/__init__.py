"""joblog: voice-and-photo job log with post-job quantity reconciliation."""

__version__ = "0.1.0"
