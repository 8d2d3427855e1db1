"""One text for one model: the kernel's STEP output made independent of time, process and memory.

The kernel stamps the time of day, counts assembly occurrences from the start of the process, breaks
lines by the length of those counts, and would write colours in the order of memory addresses. So the
header and the occurrences are written anew here, and colours are written here only.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import count

from panelgen.errors import ExportError
from panelgen.model.palette import Rgb

__all__ = ["canonical_step"]

_TIME = "1970-01-01T00:00:00"  # the same for every file: a time would make equal models differ
_STRING = rb"'(?:[^']|'')*'"
_OCCURRENCE = re.compile(
    rb"NEXT_ASSEMBLY_USAGE_OCCURRENCE\(\s*'\d+'\s*,\s*(%s)\s*,\s*%s\s*,\s*(#\d+)\s*,\s*(#\d+)\s*,\s*\$\s*\)\s*;"
    % (_STRING, _STRING)
)
_SOLID_SHAPE = re.compile(rb"ADVANCED_BREP_SHAPE_REPRESENTATION\(\s*'',\s*\(([#\d,\s]*)\),\s*(#\d+)\);")
_SOLID = re.compile(rb"^(#\d+) = MANIFOLD_SOLID_BREP\(", re.MULTILINE)
_ENTITY = re.compile(rb"^#(\d+) = ", re.MULTILINE)
_NO_NAME = "''"
_DATA, _END = b"DATA;\n", b"ENDSEC;\nEND-ISO-10303-21;\n"


def canonical_step(raw: bytes, name: str, colours: Sequence[Rgb]) -> bytes:
    """The kernel's file with a fixed header titled `name`, counted occurrences and coloured solids.

    `colours` are those of the distinct solids in the order in which the file defines them. Raises
    ExportError if the file holds another number of solids.
    """
    _, data, body = raw.partition(_DATA)
    body, end, _ = body.rpartition(_END)
    if not data or not end:
        raise ExportError("the kernel wrote no whole STEP file")
    numbers = count(1)

    def occurrence(match: re.Match[bytes]) -> bytes:
        title = match[1].replace(b"\n", b"")
        return b"NEXT_ASSEMBLY_USAGE_OCCURRENCE('%d',%s,'',\n  %s,%s,$);" % (next(numbers), title, match[2], match[3])

    body, rewritten = _OCCURRENCE.subn(occurrence, body)
    if rewritten != body.count(b"NEXT_ASSEMBLY_USAGE_OCCURRENCE("):
        raise ExportError("the kernel wrote an occurrence in a form that is not known")
    return b"".join((_header(name).encode(), data, body, _styles(body, colours), end))


def _header(name: str) -> str:
    title = name.replace("'", "''").replace("\\", "\\\\")
    return (
        "ISO-10303-21;\nHEADER;\n"
        "FILE_DESCRIPTION(('panelgen model, millimetres'),'2;1');\n"
        f"FILE_NAME('{title}','{_TIME}',(''),(''),'panelgen','panelgen','');\n"
        "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\nENDSEC;\n"
    )


def _styles(body: bytes, colours: Sequence[Rgb]) -> bytes:
    """Presentation entities: a style a colour, then an item a solid, each in the context of its shape."""
    solids = _SOLID.findall(body)
    contexts = {item.strip(): shape[2] for shape in _SOLID_SHAPE.finditer(body) for item in shape[1].split(b",")}
    if len(solids) != len(colours) or any(solid not in contexts for solid in solids):
        raise ExportError(f"the kernel wrote {len(solids)} solids for {len(colours)} shapes")
    last = body.rindex(b"\n#") + 1
    numbers = count(int(_ENTITY.match(body, last)[1]) + 1)  # type: ignore[index]
    lines: list[str] = []

    def entity(text: str) -> str:
        number = next(numbers)
        lines.append(f"#{number} = {text};\n")
        return f"#{number}"

    styles: dict[Rgb, str] = {}
    for colour in colours:
        if colour not in styles:
            levels = ",".join(_real(level / 255) for level in colour)
            shade = entity(f"COLOUR_RGB('',{levels})")
            area = entity(f"FILL_AREA_STYLE_COLOUR('',{shade})")
            fill = entity(f"SURFACE_STYLE_FILL_AREA({entity(f'FILL_AREA_STYLE({_NO_NAME},({area}))')})")
            usage = entity(f"SURFACE_STYLE_USAGE(.BOTH.,{entity(f'SURFACE_SIDE_STYLE({_NO_NAME},({fill}))')})")
            styles[colour] = entity(f"PRESENTATION_STYLE_ASSIGNMENT(({usage}))")
    for solid, colour in zip(solids, colours, strict=True):
        item = entity(f"STYLED_ITEM('color',({styles[colour]}),{solid.decode()})")
        context = contexts[solid].decode()
        entity(f"MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',({item}),{context})")
    return "".join(lines).encode()


def _real(value: float) -> str:
    """A number as ISO 10303-21 writes reals: always with a decimal point."""
    text = f"{value:.9g}"
    return text if "." in text else f"{text}."
