"""What the shop, the yard and the site need to know of a designed house: lists and orders, never new parts."""

from panelgen.plans.offcuts import Offcut, offcuts
from panelgen.plans.schedules import Item, Schedule, ScheduleRow, house_schedule, panel_schedule, schedule_csv

__all__ = [
    "Item",
    "Offcut",
    "Schedule",
    "ScheduleRow",
    "house_schedule",
    "offcuts",
    "panel_schedule",
    "schedule_csv",
]
