"""What can still be cross-checked when some entries of a file cannot be used.

Entries at fault are left out, with whatever needs them, so that one round of corrections meets every
problem of the file and no problem is only the shadow of another.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from panelgen.spec.faults import Fault
from panelgen.spec.house import HouseSpec
from panelgen.spec.lines import Path, entered

__all__ = ["Salvage", "salvaged"]

_LISTS = ("openings", "runs", "sleeves", "boxes", "backing", "trades", "waivers")
_STAND_INS: Mapping[str, Any] = {
    "panelgen": 1,
    "house": "house",
    "design": {"ground_snow": 0, "building_width": "1 m"},
    "shop": {},
}


@dataclass(frozen=True, slots=True)
class Salvage:
    """The data that is left, and for each list in it the places its entries had in the file."""

    data: dict[str, Any]
    places: Mapping[str, list[int]]

    def path_in_file(self, path: Path) -> Path:
        """A path in the data that is left, as a path in the whole file."""
        section, *rest = path
        if section not in self.places or not rest or not isinstance(rest[0], int):
            return path
        return (section, self.places[str(section)][rest[0]], *rest[1:])


@dataclass(slots=True)
class _Faulty:
    """Entries to leave out: indices by list, names of unit types; and whole keys of the house."""

    entries: dict[str, list[int]] = field(default_factory=dict)
    unit_types: list[str] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)


def salvaged(data: Any, faults: Iterable[Fault]) -> Salvage | None:
    """The file without its faulty entries; None where too little is left to be checked.

    Openings, services, backing, waivers and unit types are left out one by one; a few keys of the whole
    house have stand-ins, since no cross-check asks for them. A fault in a level, an assembly, a product
    or the unit leaves nothing that could be checked.
    """
    faulty = _Faulty()
    if not isinstance(data, dict) or not all(_can_go(fault.path, faulty) for fault in faults):
        return None
    left = {key: value for key, value in data.items() if key not in faulty.keys}
    left |= {key: _STAND_INS[key] for key in faulty.keys if key in _STAND_INS}
    if faulty.unit_types:
        left["unit_types"] = {name: unit for name, unit in data["unit_types"].items() if name not in faulty.unit_types}
    places = {section: _kept(section, data, faulty) for section in _LISTS if isinstance(left.get(section), list)}
    left |= {section: [data[section][index] for index in kept] for section, kept in places.items()}
    return Salvage(left, places)


def _can_go(path: Path, faulty: _Faulty) -> bool:
    """Note what to leave out for a fault at `path`; False where that would be too much."""
    match path:
        case (str(section), int(index), *_) if section in _LISTS:
            faulty.entries.setdefault(section, []).append(index)
        case ("unit_types", str(name), *_):
            faulty.unit_types.append(name)
        case (str(key), *_) if key in _LISTS or key in _STAND_INS or key not in HouseSpec.model_fields:
            faulty.keys.append(key)
        case _:
            return False
    return True


def _kept(section: str, data: Any, faulty: _Faulty) -> list[int]:
    """Indices of the entries of a list that are not at fault and need nothing that is."""
    runs = _lost_runs(data, faulty)
    gone = set(faulty.entries.get(section, ()))
    return [
        index
        for index, entry in enumerate(data[section])
        if index not in gone
        and not (section == "openings" and entered(entry, "type") in faulty.unit_types)
        and not (section == "sleeves" and ("runs" in faulty.keys or entered(entry, "run") in runs))
        and not (section == "runs" and entered(entry, "branch_of") in runs)
    ]


def _lost_runs(data: Any, faulty: _Faulty) -> list[str]:
    """Ids of the runs at fault, and of those that branch off them, and so on."""
    runs = data.get("runs")
    branches: dict[str, list[Any]] = {}
    for run in runs if isinstance(runs, list) else ():
        trunk = entered(run, "branch_of")
        if isinstance(trunk, str):
            branches.setdefault(trunk, []).append(entered(run, "id"))
    ids = (entered(entered(runs, index), "id") for index in faulty.entries.get("runs", ()))
    lost = dict.fromkeys(name for name in ids if isinstance(name, str))
    waiting = list(lost)
    for name in waiting:
        new = [branch for branch in branches.get(name, ()) if isinstance(branch, str) and branch not in lost]
        lost |= dict.fromkeys(new)
        waiting += new
    return waiting
