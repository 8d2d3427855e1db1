"""What the shop, the yard and the site need to know of a designed house: lists and orders, never new parts."""

from panelgen.plans.insulation_cover import CoverRow, InsulationCover, cover_text, insulation_cover
from panelgen.plans.joint_schedule import JointRow, JointSchedule, joint_schedule, joints_csv
from panelgen.plans.offcuts import Offcut, offcuts
from panelgen.plans.schedules import Item, Schedule, ScheduleRow, house_schedule, panel_schedule, schedule_csv

__all__ = [
    "CoverRow",
    "InsulationCover",
    "Item",
    "JointRow",
    "JointSchedule",
    "Offcut",
    "Schedule",
    "ScheduleRow",
    "cover_text",
    "house_schedule",
    "insulation_cover",
    "joint_schedule",
    "joints_csv",
    "offcuts",
    "panel_schedule",
    "schedule_csv",
]
