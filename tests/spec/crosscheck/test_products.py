from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import Problem, SpecError
from panelgen.spec import loads


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "remedy"),
    [
        ("rules: irc-2021", "rules: irc-2022", "rules", "no rule set", "did you mean irc-2021?"),
        ("stock: 2x6", "stock: 2x66", "assemblies.ext.layers[1].stock", "no stock size", "did you mean 2x6?"),
        ("2x6, species: SPF", "2x6, species: spf", "assemblies.ext.layers[1].species", "no species", "choose one of"),
        ("stock: 2x3", "stock: 1x33", "assemblies.ext.layers[3].stock", "no stock size", "1x3"),
        ("2x3, species: SPF", "2x3, species: Oak", "assemblies.ext.layers[3].species", "no species", "SPF"),
        ("product: osb-7/16", "product: osb-7/17", "assemblies.ext.layers[0].product", "no sheet product", "osb-7/16?"),
        ("insulation: dense-pack-cellulose", "insulation: cellulose", "assemblies.ext.layers[1].insulation",
         "no insulation",
         "choose one of: dense-pack-cellulose"),
        ("size: nm-12/2", "size: nm-12-2", "runs[0].size", "no service size", "did you mean nm-12/2?"),
        ("product: square-4x1-1/4", "product: square", "boxes[0].product", "no box", "choose one of"),
        ("product: sleeve-1", "product: sleeve-11", "sleeves[0].product", "no sleeve", "did you mean sleeve-1?"),
        ("reason: grab", "stock: 2x5, reason: grab", "backing[0].stock", "no stock size", "choose one of"),
    ],
)  # fmt: skip
def test_a_product_that_is_not_in_the_catalog(
    refusal: Callable[..., Problem], old: str, new: str, field: str, words: str, remedy: str
) -> None:
    problem = refusal(old, new)
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy


@pytest.mark.parametrize(
    ("product", "words"),
    [("gypsum-1/4", "no nailing for gypsum sheets 6.4 mm"), ("thick", "no nailing for wood sheets 50 mm")],
)
def test_a_sheet_that_no_nail_is_scheduled_for(refusal: Callable[..., Problem], product: str, words: str) -> None:
    own = "  sheets:", "  sheets:\n    thick: {thickness: 50, density: 600, sizes: [[1220, 2440]]}"
    problem = refusal("product: osb-7/16,", f"product: {product}, #!\n        ", *own)
    assert problem.field == "assemblies.ext.layers[0].product"
    assert words in problem.message
    assert "choose a sheet that is" in problem.remedy


def test_the_shops_own_products_are_found(edited: Callable[..., str]) -> None:
    house = loads(edited("stock: 2x6", "stock: 2x7"))
    assert house.assemblies["ext"].framing.stock == "2x7"


def test_products_are_looked_up_in_the_catalog_that_is_given(edited: Callable[..., str]) -> None:
    own = Catalog.default().with_products({"3x9": (60.0, 220.0)}, {})
    text = edited("stock: 2x6", "stock: 3x9")
    assert loads(text, catalog=own).assemblies["ext"].framing.stock == "3x9"
    with pytest.raises(SpecError, match="no stock size"):
        loads(text)


def test_an_interior_board_without_screws_in_the_catalog(refusal: Callable[..., Problem]) -> None:
    problem = refusal("building_width: 24 ft}", "building_width: 24 ft, interior_board: gypsum-1/3}")
    assert problem.field == "design.interior_board"
    assert problem.remedy == "did you mean gypsum-1/2?"
