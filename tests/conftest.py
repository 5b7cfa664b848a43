"""Settings that every test shares."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "zonule",
    derandomize=True,
    deadline=None,
    max_examples=100,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("soak", parent=settings.get_profile("zonule"), derandomize=False)
settings.load_profile("zonule")
