"""joblog: voice-and-photo job log with post-job quantity reconciliation."""

import os

__version__ = "0.2.0"

# onnxruntime posts usage to its makers from 1.29 on. Set before anything can import it, and handed
# down to every process started from here: what is dictated on a job is nobody's business.
os.environ["ORT_DISABLE_TELEMETRY"] = "1"
