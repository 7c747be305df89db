"""A blank the shop does not have yet: made of a price list's rows and, where they are silent, a like one."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from enum import StrEnum
from typing import TypeVar

from hundredfold.catalogue.blank_changes import Updated, update_blank
from hundredfold.catalogue.blanks import MEASURES, Blank, Body, Orientation, PrintArea, SizeMeasures
from hundredfold.catalogue.codes import code_from
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.pricelist import PriceList, PriceRow
from hundredfold.catalogue.processes import Material, Process
from hundredfold.catalogue.theirwords import our_word
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.nearest import did_you_mean

Choice = TypeVar("Choice", bound=StrEnum)
# The column of a price list that tells a measure of the body.
_COLUMN_OF = {
    "diameter_mm": "diameter mm",
    "width_mm": "body width mm",
    "height_mm": "body height mm",
    "capacity_ml": "capacity ml",
}


def make_blank(
    rows: Sequence[PriceRow], price_list: PriceList, like: Blank | None, palette: Mapping[str, Srgb]
) -> Updated:
    """A new blank with its rows as variants.

    Form, material, process, areas and body come from the list, else from ``like``. Raises one
    ShopError that carries everything that neither of them says.
    """
    maker = _Maker(rows, price_list, like)
    postage = next((row.postage for row in rows if row.postage), like.postage if like else None)
    if postage is None:
        maker.missing("postage")
    form = maker.choice("form", Form, like.form if like else None)
    material = maker.choice("material", Material, like.material if like else None)
    process = maker.choice("process", Process, like.process if like else None)
    orientation = maker.choice("orientation", Orientation, like.orientation if like else Orientation.ANY)
    areas = maker.areas()
    if postage is None or maker.silent or maker.errors:
        raise ShopError.several([*maker.silence(), *maker.errors])
    body = maker.body()
    empty = Blank(
        code=rows[0].blank,
        name=next((row.name for row in rows if row.name), rows[0].blank),
        form=form,
        material=material,
        process=process,
        orientation=orientation,
        areas=areas,
        colours=(),
        variants=(),
        postage=postage,
        body=body,
        borrowed=maker.borrowed(body),
        sizes=maker.sizes(),
        drinkware=form.traits.drinkware,
        rim_keep_out_mm=like.rim_keep_out_mm if like and form.traits.drinkware else 0.0,
        words=like.words if like else (form.value,),
    )
    return update_blank(empty, rows, price_list, palette)


class _Maker:
    """Finds what a blank needs in its rows, else in the like one, collecting what is nowhere."""

    def __init__(self, rows: Sequence[PriceRow], price_list: PriceList, like: Blank | None) -> None:
        self.errors: list[ShopError] = []
        self.silent: list[str] = []
        self._rows = rows
        self._list = price_list
        self._like = like

    def missing(self, name: str) -> None:
        """Collect that neither the list nor a like blank says this."""
        self.silent.append(name)

    def silence(self) -> Iterator[ShopError]:
        """One error that names everything nobody says."""
        if self.silent:
            what = f"{self._rows[0].blank} is new, and the list does not say its {', '.join(self.silent)}"
            fix = "add columns of these names, or copy the rest of a blank you have: --like CODE"
            yield ShopError("missing-cell", what, fix, self._list.where(self._rows[0]))

    def choice(self, name: str, choices: type[Choice], usual: Choice | None) -> Choice:
        """The one value of the rows; they must agree."""
        words = {choice.value: choice for choice in choices}
        found = our_word(name, self._agreed(name))
        if found and found.casefold() not in words:
            what = f'"{found}" is no {name} that is known'
            row = next(row for row in self._rows if row.details.get(name))
            fix = f"{did_you_mean(found, words)} (known: {', '.join(words)})"
            self.errors.append(ShopError("unknown-value", what, fix, self._list.where(row, name)))
        elif found:
            return words[found.casefold()]
        elif usual is not None:
            return usual
        else:
            self.missing(name)
        return next(iter(words.values()))

    def areas(self) -> tuple[PrintArea, ...]:
        """One area for each size of print file in the rows, for those garment sizes that have it."""
        groups: dict[tuple[str, str, str], list[PriceRow]] = {}
        for row in self._rows:
            measures = (
                row.details.get("width px", ""),
                row.details.get("height px", ""),
                row.details.get("dpi", ""),
            )
            if all(measures):
                groups.setdefault(measures, []).append(row)
        if not groups and self._like:
            return self._like_areas()
        if not groups:
            for name in ("width px", "height px", "dpi"):
                if not any(row.details.get(name) for row in self._rows):
                    self.missing(name)
            return ()
        found: list[PrintArea] = []
        for (width, height, dpi), rows in groups.items():
            sizes = tuple(dict.fromkeys(row.size for row in rows))
            name = code_from(rows[0].details.get("area", "")) or "front"
            alone = len(groups) == 1
            found.append(
                PrintArea(
                    name if alone else f"{name}-{code_from(sizes[0]) or len(found) + 1}",
                    int(Decimal(width)),
                    int(Decimal(height)),
                    int(Decimal(dpi)),
                    for_sizes=() if alone else sizes,
                )
            )
        return tuple(found)

    def body(self) -> Body:
        """Measures of the rows where they have some, else of the like one."""
        like = self._like.body if self._like else Body()
        held = self._agreed("capacity ml")
        like = replace(like, capacity_ml=float(held) if held else like.capacity_ml)
        told = self._told_sizes()
        if told:
            first = told[0]
            return replace(
                like,
                diameter_mm=first.diameter_mm,
                height_mm=first.height_mm,
                width_mm=first.width_mm,
                size=first.size,
            )
        return like if like.size in self._known() else replace(like, size="")

    def borrowed(self, body: Body) -> tuple[str, ...]:
        """Those of the body's measures that no row tells: they are the like one's."""
        told = {
            ours for ours, theirs in _COLUMN_OF.items() if any(row.details.get(theirs) for row in self._rows)
        }
        return tuple(name for name in MEASURES if getattr(body, name) is not None and name not in told)

    def sizes(self) -> tuple[SizeMeasures, ...]:
        """What the rows tell of their sizes, else what the like one knows of these."""
        if told := self._told_sizes():
            return told if told[0].size else ()
        known = self._known()
        return tuple(one for one in (self._like.sizes if self._like else ()) if one.size in known)

    def _told_sizes(self) -> tuple[SizeMeasures, ...]:
        """The measures of each size whose rows have any; what one lacks is the like one's."""
        like, found = self._like.body if self._like else Body(), {}
        for row in self._rows:
            across, wide, high = (
                row.details.get(name) for name in ("diameter mm", "body width mm", "body height mm")
            )
            if (across or wide or high) and row.size not in found:
                found[row.size] = SizeMeasures(
                    row.size,
                    diameter_mm=float(across) if across else like.diameter_mm,
                    width_mm=float(wide) if wide else like.width_mm,
                    height_mm=float(high) if high else like.height_mm,
                )
        return tuple(found.values())

    def _known(self) -> set[str]:
        return {row.size for row in self._rows}

    def _like_areas(self) -> tuple[PrintArea, ...]:
        assert self._like is not None
        known = self._known()
        return tuple(
            replace(area, for_sizes=tuple(size for size in area.for_sizes if size in known))
            for area in self._like.areas
            if not area.for_sizes or known & set(area.for_sizes)
        )

    def _agreed(self, name: str) -> str:
        found = [row for row in self._rows if row.details.get(name)]
        values = list(dict.fromkeys(row.details[name] for row in found))
        if len(values) > 1 and name not in _COLUMN_OF.values():
            other = next(row for row in found if row.details[name] == values[1])
            what = f'{other.blank} has both "{values[0]}" and "{values[1]}" as its {name}'
            fix = "use one, or give the goods two codes"
            self.errors.append(ShopError("cells-differ", what, fix, self._list.where(other, name)))
        return values[0] if values else ""
