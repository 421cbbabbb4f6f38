"""The record of the metals' link."""

from ..record import Link
from .link import hottest_bands, work_metals
from .verdicts import metal_checks

HOTTEST = "metals.hottest_c."


def _bands(part, drawn, n):
    return {f"{HOTTEST}{i}": band for i, band in enumerate(hottest_bands(part, drawn, n).values())}


def _verdicts(build, parts, bands):
    part = parts["metals"]
    ids = () if part is None else part.ids
    hottest = {id: bands.get(f"{HOTTEST}{i}") for i, id in enumerate(ids)}
    return metal_checks(build, part, hottest)


METALS = Link(
    "metals",
    needs=("heat",),
    work=work_metals,
    verdicts=_verdicts,
    headline=("margin_k", "melt_margin_k", "drop_k"),
    page="03_metals",
    bands=_bands,
)
