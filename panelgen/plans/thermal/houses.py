"""Heat through the whole shell of a house, and its listing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.catalog.thermal import M2K_PER_FT2HF
from panelgen.model import House, Panel
from panelgen.plans.insulation_cover import InsulationCover, cover_record, cover_text
from panelgen.plans.thermal.panels import PanelThermal, is_shell, panel_thermal

__all__ = ["HouseThermal", "house_thermal", "thermal_json", "thermal_text"]


@dataclass(frozen=True, slots=True)
class HouseThermal:
    """The panels of the shell, and their means weighted by area; means of no area are 0.

    `sources` are those of every value used, marked where unverified.
    """

    panels: tuple[PanelThermal, ...]

    @property
    def area(self) -> float:
        """Opaque area, m2."""
        return sum(panel.area for panel in self.panels)

    @property
    def framing(self) -> float:
        """Share of wood in the framing, by area."""
        return self._mean([panel.framing for panel in self.panels])

    @property
    def transmittance(self) -> float:
        """U by the combined method, W/(m2 K)."""
        return self._mean([panel.iso.transmittance for panel in self.panels])

    @property
    def parallel_transmittance(self) -> float:
        """U by parallel paths, W/(m2 K)."""
        return self._mean([panel.parallel.parallel_transmittance for panel in self.panels])

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source used, in the order of first use."""
        return tuple(dict.fromkeys(fact.cited for panel in self.panels for fact in panel.facts))

    def _mean(self, values: Sequence[float]) -> float:
        total = sum(value * panel.area for value, panel in zip(values, self.panels, strict=True))
        return total / self.area if self.area > 0.0 else 0.0


def house_thermal(house: House, catalog: Catalog, panels: Sequence[Panel] | None = None) -> HouseThermal:
    """Heat through the shell of a house, or through those of `panels` that are in it.

    Raises CatalogError for a product of which no conductivity is known.
    """
    chosen = house.panels if panels is None else panels
    return HouseThermal(tuple(panel_thermal(panel, house, catalog) for panel in chosen if is_shell(panel)))


def thermal_text(report: HouseThermal, cover: InsulationCover | None = None) -> str:
    """A table of the panels, the whole, and where the values come from; then one of what covers the airtight panels."""
    names = ("m2", "wood %", "empty %", "U", "R", "U par.", "R-value")
    lines = [f"{'panel':8s}{'kind':15s}" + "".join(f"{name:>9s}" for name in names)]
    lines += [
        f"{one.label:8s}{one.kind:15s}{one.area:9.2f}{one.framing:9.1%}{one.unfilled:9.1%}"
        f"{one.iso.transmittance:9.3f}{one.iso.resistance:9.3f}{one.parallel.parallel_transmittance:9.3f}"
        f"{one.parallel.upper / M2K_PER_FT2HF:9.1f}{'  unverified' if one.unverified else ''}"
        for one in report.panels
    ]
    if report.panels:
        u, parallel = report.transmittance, report.parallel_transmittance
        lines.append(
            f"{'all':8s}{'':15s}{report.area:9.2f}{report.framing:9.1%}{'':9s}{u:9.3f}{1 / u:9.3f}{parallel:9.3f}"
            f"{1 / parallel / M2K_PER_FT2HF:9.1f}"
        )
    lines += [
        "",
        "Opaque parts only, rough openings left out; wood is the measured share of the framing layer.",
        "U W/(m2 K) and R m2 K/W by the combined method of ISO 6946; U par. by parallel paths, R-value its inverse,",
        "ft2 h F/Btu. Values from:",
        *(f"  {source}" for source in report.sources),
    ]
    text = "\n".join(lines) + "\n"
    return text if cover is None else f"{text}\n{cover_text(cover)}"


def thermal_json(report: HouseThermal, cover: InsulationCover | None = None) -> str:
    """The report as one JSON document: SI units, shares from 0 to 1; ``insulation`` is the cover where it is given."""
    panels = [
        {
            "panel": one.label,
            "kind": str(one.kind),
            "area_m2": one.area,
            "opening_area_m2": one.opening_area,
            "framing_share": one.framing,
            "unfilled_share": one.unfilled,
            "iso_6946": {
                "upper_m2k_w": one.iso.upper,
                "lower_m2k_w": one.iso.lower,
                "resistance_m2k_w": one.iso.resistance,
                "u_w_m2k": one.iso.transmittance,
            },
            "parallel_path": {"resistance_m2k_w": one.parallel.upper, "u_w_m2k": one.parallel.parallel_transmittance},
            "unverified": one.unverified,
        }
        for one in report.panels
    ]
    whole = {
        "area_m2": report.area,
        "framing_share": report.framing,
        "iso_6946_u_w_m2k": report.transmittance,
        "parallel_path_u_w_m2k": report.parallel_transmittance,
    }
    insulation = {} if cover is None else {"insulation": cover_record(cover)}
    return json.dumps({"house": whole, "panels": panels, "sources": report.sources, **insulation}, indent=2) + "\n"
