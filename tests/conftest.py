"""Settings that every test shares."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "zonule",
    derandomize=True,
    deadline=None,
    max_examples=100,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("zonule")
