"""Draws small IFC models for the tests, straight from the schema; lengths are given in mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.guid
import numpy as np

from panelgen.intake import Intake, read_ifc
from panelgen.spec import HouseSpec
from panelgen.spec.loader import loads
from panelgen.spec.walls import Level, WallLine

MM_PER = {"mm": 1.0, "m": 1000.0, "ft": 304.8}
Point = tuple[float, ...]


class Drawing:
    """A model under way. `storey` must be called before the elements it is to hold."""

    def __init__(self, schema: str = "IFC4", unit: str = "mm") -> None:
        self.file = ifcopenshell.file(schema=schema)
        self.factor = 1.0 / MM_PER[unit]
        self.context = self.make(
            "IfcGeometricRepresentationContext",
            ContextType="Model",
            CoordinateSpaceDimension=3,
            Precision=1e-6,
            WorldCoordinateSystem=self.place3(),
        )
        units = self.make("IfcUnitAssignment", Units=[self._unit(unit)])
        self.project = self.rooted(
            "IfcProject", Name="Test house", UnitsInContext=units, RepresentationContexts=[self.context]
        )
        self.building = self.rooted("IfcBuilding", Name="Building", ObjectPlacement=self.local((0, 0, 0)))
        self.relate("IfcRelAggregates", RelatingObject=self.project, RelatedObjects=[self.building])
        self.now: Any = None

    def make(self, entity: str, *values: Any, **attributes: Any) -> Any:
        return self.file.create_entity(entity, *values, **attributes)

    def rooted(self, entity: str, **attributes: Any) -> Any:
        return self.make(entity, GlobalId=ifcopenshell.guid.new(), **attributes)

    relate = rooted

    def imported(self, folder: Path) -> tuple[Intake, HouseSpec]:
        """What the import makes of the model, and its spec as the loader reads it."""
        path = self.save(folder / "model.ifc")
        intake = read_ifc(path)
        return intake, loads(intake.spec_text)

    def save(self, path: Path) -> Path:
        self.file.write(str(path))
        return path

    # placements and curves

    def point(self, *xyz: float) -> Any:
        return self.make("IfcCartesianPoint", Coordinates=[float(c) * self.factor for c in xyz])

    def direction(self, *xyz: float) -> Any:
        return self.make("IfcDirection", DirectionRatios=[float(c) for c in xyz])

    def place3(self, at: Point = (0, 0, 0), x: Point = (1, 0, 0), z: Point = (0, 0, 1)) -> Any:
        return self.make(
            "IfcAxis2Placement3D", Location=self.point(*at), Axis=self.direction(*z), RefDirection=self.direction(*x)
        )

    def local(self, at: Point, degrees: float = 0.0, under: Any = None) -> Any:
        x = (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)), 0.0)
        return self.make("IfcLocalPlacement", PlacementRelTo=under, RelativePlacement=self.place3(at, x))

    def line(self, points: Sequence[Point]) -> Any:
        return self.make("IfcPolyline", Points=[self.point(*p) for p in points])

    # solids

    def prism(self, ring: Sequence[Point], depth: float, place: Any = None) -> Any:
        """A closed ring of (x, y), extruded along the z of `place`."""
        profile = self.make("IfcArbitraryClosedProfileDef", ProfileType="AREA", OuterCurve=self.line([*ring, ring[0]]))
        return self.swept(profile, depth, place)

    def block(self, length: float, thickness: float, height: float, x0: float = 0.0) -> Any:
        """A box from `x0` along x, centred across it, standing on z = 0."""
        middle = self.make(
            "IfcAxis2Placement2D", Location=self.point(x0 + length / 2, 0), RefDirection=self.direction(1, 0)
        )
        profile = self.make(
            "IfcRectangleProfileDef",
            ProfileType="AREA",
            Position=middle,
            XDim=length * self.factor,
            YDim=thickness * self.factor,
        )
        return self.swept(profile, height)

    def swept(self, profile: Any, depth: float, place: Any = None) -> Any:
        return self.make(
            "IfcExtrudedAreaSolid",
            SweptArea=profile,
            Position=place or self.place3(),
            ExtrudedDirection=self.direction(0, 0, 1),
            Depth=depth * self.factor,
        )

    def upright(self, ring: Sequence[Point], thickness: float) -> Any:
        """A ring of (along, up), extruded across the wall and centred on its axis."""
        return self.prism(ring, thickness, self.place3((0, thickness / 2, 0), (1, 0, 0), (0, -1, 0)))

    def pierced(self, length: float, thickness: float, height: float, hole: tuple[float, float, float, float]) -> Any:
        """A wall whose body already has the hole (x0, y0, x1, y1), as an extruded elevation with a void."""
        x0, y0, x1, y1 = hole
        profile = self.make(
            "IfcArbitraryProfileDefWithVoids",
            ProfileType="AREA",
            OuterCurve=self.line([(0, 0), (length, 0), (length, height), (0, height), (0, 0)]),
            InnerCurves=[self.line([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])],
        )
        return self.swept(profile, thickness, self.place3((0, thickness / 2, 0), (1, 0, 0), (0, -1, 0)))

    def shape(self, bodies: Sequence[Any], axis: Sequence[Point] | Any = None) -> Any:
        shapes = []
        if axis is not None:
            curve = axis if isinstance(axis, ifcopenshell.entity_instance) else self.line(axis)
            shapes.append(self._representation("Axis", "Curve2D", [curve]))
        if bodies:
            shapes.append(self._representation("Body", "SweptSolid", bodies))
        return self.make("IfcProductDefinitionShape", Representations=shapes)

    # elements

    def storey(self, name: str, elevation: float = 0.0) -> Any:
        place = self.local((0, 0, elevation), under=self.building.ObjectPlacement)
        storey = self.rooted(
            "IfcBuildingStorey",
            Name=name,
            ObjectPlacement=place,
            CompositionType="ELEMENT",
            Elevation=elevation * self.factor,
        )
        self.relate("IfcRelAggregates", RelatingObject=self.building, RelatedObjects=[storey])
        self.now = storey
        return storey

    def wall(
        self,
        name: str = "Wall",
        at: Point = (0, 0, 0),
        degrees: float = 0.0,
        length: float = 4000.0,
        thickness: float = 200.0,
        height: float = 2400.0,
        *,
        axis: bool = True,
        bodies: Sequence[Any] | None = None,
        entity: str = "IfcWall",
        **common: Any,
    ) -> Any:
        """A wall whose axis is in the middle of its body; `common` are properties such as IsExternal."""
        bodies = [self.block(length, thickness, height)] if bodies is None else bodies
        wall = self.rooted(
            entity,
            Name=name,
            ObjectPlacement=self.local((*at, 0)[:3], degrees, self.now.ObjectPlacement if self.now else None),
            Representation=self.shape(bodies, [(0, 0), (length, 0)] if axis else None) if bodies else None,
        )
        self._hold(wall)
        if common:
            properties = [
                self.make("IfcPropertySingleValue", Name=key, NominalValue=self.make("IfcBoolean", value))
                for key, value in common.items()
            ]
            values = self.rooted("IfcPropertySet", Name="Pset_WallCommon", HasProperties=properties)
            self.relate("IfcRelDefinesByProperties", RelatedObjects=[wall], RelatingPropertyDefinition=values)
        return wall

    def layers(self, wall: Any, sizes: Sequence[tuple[str, float]], offset: float, sense: str = "NEGATIVE") -> None:
        """Give the wall material layers (name, thickness) from `offset` off its axis."""
        plies = [
            self.make(
                "IfcMaterialLayer", Material=self.make("IfcMaterial", Name=name), LayerThickness=size * self.factor
            )
            for name, size in sizes
        ]
        usage = self.make(
            "IfcMaterialLayerSetUsage",
            ForLayerSet=self.make("IfcMaterialLayerSet", MaterialLayers=plies),
            LayerSetDirection="AXIS2",
            DirectionSense=sense,
            OffsetFromReferenceLine=offset * self.factor,
        )
        self.relate("IfcRelAssociatesMaterial", RelatedObjects=[wall], RelatingMaterial=usage)

    def material(self, wall: Any, name: str) -> None:
        material = self.make("IfcMaterial", Name=name)
        self.relate("IfcRelAssociatesMaterial", RelatedObjects=[wall], RelatingMaterial=material)

    def opening(
        self,
        wall: Any,
        x: float,
        width: float,
        bottom: float,
        height: float,
        *,
        body: Any = None,
        across: tuple[float, float] = (-500.0, 500.0),
        inside: Any = None,
    ) -> Any:
        """A void from `x` along the wall, `bottom` above its foot; `inside` is the wall it really lies in."""
        near, far = across
        place = self.place3((0, far, 0), (1, 0, 0), (0, -1, 0))
        ring = [(x, bottom), (x + width, bottom), (x + width, bottom + height), (x, bottom + height)]
        host = inside or wall
        void = self.rooted(
            "IfcOpeningElement",
            Name="Opening",
            ObjectPlacement=self.local((0, 0, 0), under=host.ObjectPlacement),
            Representation=self.shape([body or self.prism(ring, far - near, place)]),
        )
        self.relate("IfcRelVoidsElement", RelatingBuildingElement=wall, RelatedOpeningElement=void)
        return void

    def round_void(self, x: float, up: float, radius: float) -> Any:
        """A round body through a wall, for `opening`."""
        profile = self.make("IfcCircleProfileDef", ProfileType="AREA", Radius=radius * self.factor)
        return self.swept(profile, 1000.0, self.place3((x, 500, up), (1, 0, 0), (0, -1, 0)))

    def filling(self, entity: str, name: str, width: float, height: float, void: Any = None, at: Any = None) -> Any:
        """A window or door in a void, or on its own as a box `at` (wall, x, bottom)."""
        attributes: dict[str, Any] = {"OverallWidth": width * self.factor, "OverallHeight": height * self.factor}
        if at is not None:
            wall, x, bottom = at
            attributes["ObjectPlacement"] = self.local((x, 0, bottom), under=wall.ObjectPlacement)
            attributes["Representation"] = self.shape([self.block(width, 60, height)])
        unit = self.rooted(entity, Name=name, **attributes)
        self._hold(unit)
        if void is not None:
            self.relate("IfcRelFillsElement", RelatingOpeningElement=void, RelatedBuildingElement=unit)
        return unit

    def _hold(self, element: Any) -> None:
        if self.now is not None:
            self.relate("IfcRelContainedInSpatialStructure", RelatedElements=[element], RelatingStructure=self.now)

    def _representation(self, identifier: str, kind: str, items: Sequence[Any]) -> Any:
        return self.make(
            "IfcShapeRepresentation",
            ContextOfItems=self.context,
            RepresentationIdentifier=identifier,
            RepresentationType=kind,
            Items=list(items),
        )

    def _unit(self, unit: str) -> Any:
        if unit != "ft":
            prefix = "MILLI" if unit == "mm" else None
            return self.make("IfcSIUnit", UnitType="LENGTHUNIT", Prefix=prefix, Name="METRE")
        metre = self.make("IfcSIUnit", UnitType="LENGTHUNIT", Name="METRE")
        dimensions = self.make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0)
        factor = self.make(
            "IfcMeasureWithUnit", ValueComponent=self.make("IfcLengthMeasure", 0.3048), UnitComponent=metre
        )
        return self.make(
            "IfcConversionBasedUnit", Dimensions=dimensions, UnitType="LENGTHUNIT", Name="FOOT", ConversionFactor=factor
        )


def small_house(drawing: Drawing, *, axis: bool = True, flags: bool = True) -> dict[str, Any]:
    """Four exterior walls of 200 mm around 6000 by 4000 mm, a partition of 100 mm, a window and two doors.

    Walls A and C run through at the corners, B and D butt between them; the partition butts too.
    """
    common: dict[str, Any] = {"IsExternal": True, "LoadBearing": True} if flags else {}
    inner: dict[str, Any] = {"IsExternal": False, "LoadBearing": False} if flags else {}
    drawing.storey("Level 1", 0.0)
    walls = {
        "A": drawing.wall("Basic Wall:South:101", (0, 100), 0, 6000, axis=axis, **common),
        "B": drawing.wall("Basic Wall:East:102", (5900, 200), 90, 3600, axis=axis, **common),
        "C": drawing.wall("Basic Wall:North:103", (6000, 3900), 180, 6000, axis=axis, **common),
        "D": drawing.wall("Basic Wall:West:104", (100, 3800), 270, 3600, axis=axis, **common),
        "P": drawing.wall("Basic Wall:Partition:105", (2550, 200), 90, 3600, 100, 2300, axis=axis, **inner),
    }
    window = drawing.opening(walls["A"], 1000, 1200, 900, 1100)
    drawing.filling("IfcWindow", "Fixed:1200 x 1100:201", 1200, 1100, window)
    door = drawing.opening(walls["C"], 4000, 900, 0, 2050)
    drawing.filling("IfcDoor", "Single:900 x 2050:202", 900, 2050, door)
    inner_door = drawing.opening(walls["P"], 1500, 800, 0, 2030)
    drawing.filling("IfcDoor", "Single:800 x 2030:203", 800, 2030, inner_door)
    return walls


def lines(spec: HouseSpec) -> dict[str, WallLine]:
    """Every wall line by id."""
    return {line.wall: line for level in spec.levels for line in level.walls}


def level_of(spec: HouseSpec, wall: str) -> Level:
    """The level that a wall stands on."""
    return next(level for level in spec.levels if any(line.wall == wall for line in level.walls))


def reasons(intake: Intake) -> dict[str, str]:
    """Why things were left, by name."""
    return {item.name: item.reason for item in intake.left}


def seen_from_above(start: Sequence[float], end: Sequence[float], along: float) -> np.ndarray:
    """(2,) float: the plan point at a distance from the start of a line."""
    a, b = np.asarray(start, float), np.asarray(end, float)
    return a + (b - a) / np.linalg.norm(b - a) * along
