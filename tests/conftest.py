"""Random tests draw the same examples on every run, and a busy machine does not fail them."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("panelgen", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("panelgen")
