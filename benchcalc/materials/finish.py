"""What service does to a finish: bright metal tints, then scales, and sheds more heat afterwards."""

from dataclasses import dataclass

import numpy as np

from ..basics.tables import rows
from .bulk import emissivity_of, finish_word, solid_key

TINTS_C, SCALES_C = 300.0, 600.0  # stainless steel; own judgement, with "after repeated heating" read up to 900 degC
BRIGHT = ("polished", "bright", "commercial sheet")


@dataclass(frozen=True)
class Service:
    """A finish after service: its word, its emissivity with ends, and whether it is no longer the one stated."""

    finish: str
    emissivity: float
    low: float
    high: float
    changed: bool


def finish_in_service(material, finish, hottest_c):
    """The finish a stainless part ends with after running at a temperature.

    material: as bulk.solid_key. finish: word of data/finishes.csv, or None (not said). hottest_c: degC
    that it has run at, a float.
    Returns Service.  Bright stainless steel tints above 300 degC and scales above 600; other materials
    and finishes keep what the sheet says.
    Source: bands of data/emissivity.csv; the two temperatures are a judgement of this project.
    """
    topic, key = solid_key(material)
    family = next(r["family"] for r in rows(topic) if r["key"] == key)
    said = None if finish is None else finish_word(finish)
    becomes = said
    if family == "stainless steel" and np.isfinite(hottest_c):
        if hottest_c > SCALES_C and said in (None, *BRIGHT, "tinted", "used"):
            becomes = "after red heat"
        elif hottest_c > TINTS_C and said in (None, *BRIGHT):
            becomes = "tinted"
        elif said is None:
            becomes = "bright"
    row = emissivity_of(material, becomes)
    return Service(row["finish"], row["value"], row["low"], row["high"], said is not None and becomes != said)
