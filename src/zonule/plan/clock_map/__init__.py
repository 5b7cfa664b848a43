"""What lies where on the clock face of the eye to be done: wounds, hooks, what is there already."""

from zonule.plan.clock_map.build import clock_map_of
from zonule.plan.clock_map.records import Clash, ClockMap, Mark, Seat, SteepAxis

__all__ = ["Clash", "ClockMap", "Mark", "Seat", "SteepAxis", "clock_map_of"]
