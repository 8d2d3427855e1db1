"""A house half designed: what stays as it is when only its runs, boxes and sleeves move.

Walls, junctions and what is asked of each panel follow from the spec's walls and openings, the split into panels
also from where services bar joints. A draft keeps them, so that a moved run costs the design of the panels it touches.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.design.dormers.assign import DormerBriefs, dormers_of
from panelgen.design.dormers.panels import design_dormers
from panelgen.design.floors.assign import deck_briefs, served_decks
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.outline import Deck, decks_of
from panelgen.design.floors.panel import design_cassettes
from panelgen.design.panel import design_panels
from panelgen.design.roofs.assign import roof_briefs, slopes_of
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.gables import gable_tops
from panelgen.design.roofs.panel import design_roof_panels
from panelgen.design.roofs.slope import Slope
from panelgen.design.roofs.trusses import trusses_of
from panelgen.design.split.joints import Keep
from panelgen.design.split.services import keeps_by_name
from panelgen.design.split.walls import Splits, split_walls
from panelgen.design.trades.requests import Requests, requests_of
from panelgen.design.walls.assign import panel_briefs, whole_walls
from panelgen.design.walls.junctions import Meeting, ResolvedWall, resolve
from panelgen.design.walls.plan import plan_walls
from panelgen.design.walls.point_loads import posts_by_wall
from panelgen.model import Finding, Panel, PanelKind, Truss
from panelgen.model.partition import Partition
from panelgen.spec import HouseSpec

__all__ = ["Draft"]

_ORDER = {
    PanelKind.FLOOR: 0,
    PanelKind.EXTERIOR_WALL: 1,
    PanelKind.INTERIOR_WALL: 1,
    PanelKind.CEILING: 2,
    PanelKind.ROOF: 3,
}


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """The briefs of all panels of a house and the requests of the trades; `notes` are findings about walls."""

    catalog: Catalog
    rules: RuleSet
    walls: tuple[ResolvedWall, ...]
    meetings: tuple[Meeting, ...]
    splits: Splits
    briefs: tuple[PanelBrief, ...]
    requests: Requests
    notes: tuple[Finding, ...]
    roofs: tuple[RoofBrief, ...] = ()
    decks: tuple[Deck, ...] = ()
    cassettes: tuple[CassetteBrief, ...] = ()
    lying_splits: tuple[Partition, ...] = ()
    trusses: tuple[Truss, ...] = ()
    dormers: tuple[DormerBriefs, ...] = ()
    dormer_splits: tuple[Partition, ...] = ()
    slopes: tuple[Slope, ...] = ()
    keeps: Mapping[str, tuple[Keep, ...]] = field(default_factory=dict)

    @classmethod
    def of(cls, spec: HouseSpec, catalog: Catalog | None = None, before: Draft | None = None) -> Draft:
        """The draft of a house, by default from the shipped catalog. Raises SpecError or CatalogError for bad input.

        Walls that are just as in the draft `before`, of much the same house, are split the same without looking.
        """
        catalog = catalog or spec.products.over(Catalog.default())
        walls: list[ResolvedWall] = []
        meetings: list[Meeting] = []
        notes: list[Finding] = []
        rules = catalog.rules(spec.rules)
        tops = gable_tops(spec, catalog, rules)
        for level in spec.levels:
            settled, met, found = resolve(plan_walls(spec, level, catalog, tops))
            walls.extend(settled)
            meetings.extend(met)
            notes.extend(found)
        decks = decks_of(spec, walls, catalog)
        slopes, slope_notes = slopes_of(spec, catalog, rules)
        requests = requests_of(spec, walls, decks, slopes, catalog)
        keeps = _keeps(decks, slopes, requests, catalog)
        roofs, roof_splits, roof_notes = roof_briefs(spec, slopes, catalog, rules, keeps)
        wholes = whole_walls(spec, walls, requests.backing, catalog)
        splits = split_walls(spec, wholes, requests, rules, before.splits if before else None)
        posts = posts_by_wall(spec, walls, wholes, decks, rules, catalog)
        stood = dormers_of(spec, catalog, rules)
        every = panel_briefs(
            spec, (*walls, *stood.walls), (*splits.spans, *stood.spans), requests.backing, posts, catalog
        )
        own = {one.wall.id for one in stood.walls}
        briefs = tuple(brief for brief in every if brief.wall.id not in own)
        on_walls = [brief for brief in every if brief.wall.id in own]
        dormers, dormer_splits, dormer_notes = stood.briefs(spec, on_walls, roofs, catalog, rules)
        cassettes, deck_splits, deck_notes = deck_briefs(spec, decks, walls, keeps, catalog)
        trusses, truss_notes = trusses_of(spec, walls, rules, catalog)
        notes += [
            *splits.findings,
            *slope_notes,
            *roof_notes,
            *stood.findings,
            *dormer_notes,
            *deck_notes,
            *truss_notes,
        ]
        return cls(
            catalog,
            rules,
            (*walls, *stood.walls),
            (*meetings, *stood.meetings),
            splits,
            briefs,
            requests,
            tuple(notes),
            roofs,
            decks,
            cassettes,
            (*deck_splits, *roof_splits, *dormer_splits),
            trusses,
            dormers,
            stood.partitions,
            slopes,
            keeps,
        )

    def with_services(self, spec: HouseSpec) -> Draft:
        """The draft of a spec that differs in runs, boxes and sleeves only. Raises SpecError as `of` does.

        It has the same briefs, unless joints are now barred elsewhere: panels never meet on a service.
        """
        requests = requests_of(spec, self.walls, self.decks, self.slopes, self.catalog)
        splits = self.splits.again(spec, requests, self.rules)
        keeps = _keeps(self.decks, self.slopes, requests, self.catalog)
        if (splits.spans, splits.findings, keeps) != (self.splits.spans, self.splits.findings, self.keeps):
            return Draft.of(spec, self.catalog, self)
        return replace(self, requests=requests, splits=splits)

    def panels(self, labels: Collection[str] | None = None) -> tuple[Panel, ...]:
        """Every panel designed, or those with these labels, in the order of the house."""
        briefs = [brief for brief in self.briefs if labels is None or brief.label in labels]
        walls = design_panels(briefs, self.rules, self.requests, self.catalog)
        slopes = [brief for brief in self.roofs if labels is None or brief.label in labels]
        roofs = design_roof_panels(slopes, self.requests)
        cassettes = [one for one in self.cassettes if labels is None or one.panel.label in labels]
        decks = design_cassettes(cassettes, self.rules, self.requests, self.catalog)
        dormers = design_dormers(self.dormers, self.rules, self.requests, self.catalog, labels)
        return self.in_order([*walls, *decks, *roofs, *dormers])

    def in_order(self, panels: Iterable[Panel]) -> tuple[Panel, ...]:
        """Panels as they are set: level by level the floor, the walls on it, the ceiling, the roof, and its dormers."""
        levels = list(dict.fromkeys(one.wall.level.id for one in self.walls))
        return tuple(
            sorted(panels, key=lambda panel: (levels.index(panel.level), panel.dormer != "", _ORDER[panel.kind]))
        )

    @property
    def partitions(self) -> tuple[Partition, ...]:
        """How every wall was split, those of dormers last, then every field of the floors and ceilings, then the parts
        of every roof plane."""
        return (*self.splits.partitions, *self.dormer_splits, *self.lying_splits)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What can be said before any panel is designed: about the walls, and about fittings."""
        return (*self.notes, *self.requests.findings)


def _keeps(
    decks: Sequence[Deck], slopes: Sequence[Slope], requests: Requests, catalog: Catalog
) -> Mapping[str, tuple[Keep, ...]]:
    """Where services bar the joints of floors, ceilings and roof planes, by their ids."""
    return keeps_by_name([*served_decks(decks, catalog), *(slope.served for slope in slopes)], requests, catalog)
