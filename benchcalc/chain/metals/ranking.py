"""Every metal side by side for one part: worked through the heat model anew, or by hand at a set temperature."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from ...basics.names import say
from ...materials.metals import (
    NEVER,
    family_of,
    mean_between,
    metal_at,
    metal_key,
    metal_name,
    metal_value,
    metals,
    service_note,
)
from ...sheet.change import change, item
from ...thermal.surfaces.by_hand import drop_from, tube_mass
from ...thermal.surfaces.fins import tube_section
from ..heat.link import work_heat
from .link import part_drop

LADDER = (
    "solder-sn60pb40",
    "zinc-die-cast",
    "aluminium-6061",
    "aluminium-1100",
    "galvanised-steel",
    "brass-free-cutting",
    "bronze-phosphor",
    "nickel-silver",
    "copper",
    "cast-iron",
    "nickel",
    "mild-steel",
    "titanium",
    "stainless-304",
)
COATED = "galvanised-steel"  # what melts is its coat
KEEPS_BACK = ("tube", "collar", "shroud", "break")  # roles whose work is to keep heat from the handle
SPEAKS = {
    "copper": "carries heat best; scales slowly",
    "stainless steel": "keeps heat back; hardly scales",
    "brass": "carries heat well, easy to turn",
    "steel": "cheap and strong; rusts",
    "aluminium": "light, carries heat well",
    "titanium": "light, keeps heat back",
    "bronze": "wears well",
    "wrought iron": "tough, forges well",
    "cast iron": "cheap; brittle",
    "nickel": "hardly scales",
    "nickel silver": "keeps heat back, brazes well",
    "silver": "carries heat best; costly and soft",
    "zinc": "soft; creeps",
    "tin": "soft; creeps",
    "solder": "soft; creeps",
}
STANDS = ("stays", "at its limit", "past its limit", "melts", "not here")


@dataclass(frozen=True)
class MetalRow:
    """One metal in the place of a part: how it stands (one of STANDS), its hottest place, margins, drop, and why.

    tip_c, entry_c: of the tool with it, degC. drop_k: along it. least_s: time to warm it were nothing lost.
    """

    metal: str
    stands: str
    hottest_c: float
    margin_k: float
    melt_margin_k: float
    drop_k: float
    tip_c: float
    entry_c: float
    mass_kg: float
    least_s: float
    why: str


def standing(metal: str, hottest_c: float) -> tuple[str, float, float]:
    """How a metal stands at a temperature.

    metal: key. hottest_c: degC, a float.
    Returns (one of STANDS, margin to the cautious service limit in K, margin to melting in K).
    """
    service, melts = metal_value(metal, "service_limit_c"), metal_value(metal, "melting_low_c").low
    word = (
        "not here"
        if metal in NEVER
        else "melts"
        if hottest_c >= melts
        else "stays"
        if hottest_c <= service.value
        else "at its limit"
        if hottest_c <= service.high
        else "past its limit"
    )
    return word, float(service.value - hottest_c), float(melts - hottest_c)


def metals_side_by_side(build, workings, id, keys=None):
    """Each metal as the material of one part, the tool worked out anew with the same watts; best first.

    build: Build. workings: Workings of it. id: a metal part. keys: metals to try, None for all of the tables.
    Returns tuple of MetalRow: those that stay first; among them, for a tube or collar the one with the coolest
    handle, for any other part the one with the hottest tip (where there is no tip, the smallest drop).  Each row's
    `why` says what speaks for or against it.
    Raises Fault: unknown part or metal.
    """
    part = item(build.part, id)
    rows = [_tried(build, workings, part, metal_key(k)) for k in (metals() if keys is None else keys)]
    return tuple(sorted(rows, key=lambda r: (STANDS.index(r.stands), _aim(part, r))))


def _aim(part, row):
    if part.role in KEEPS_BACK and np.isfinite(row.entry_c):
        return row.entry_c
    return -row.tip_c if np.isfinite(row.tip_c) else row.drop_k if np.isfinite(row.drop_k) else np.inf


def _tried(build, workings, part, metal):
    changed = change(build, f"part.{part.id}.material", metal)
    heat = work_heat(changed, workings.wire, workings.coil)
    if heat is None or heat.refused:
        raise fault(
            f"part {part.id}",
            metal,
            "cannot be worked out in this tool.",
            heat.refused if heat is not None else "The sheet gives no temperatures.",
        )
    hottest = float(heat.hottest(part.id))
    word, margin, melt = standing(metal, hottest)
    found = part_drop(heat, part.id, metal)
    section = float(tube_section(part.outer_m, part.inner_m or 0.0))
    mass = float(tube_mass(section, part.to_m - part.from_m, metal_value(metal, "density_kg_m3").value))
    return MetalRow(
        metal,
        word,
        hottest,
        margin,
        melt,
        np.nan if found is None else found.drop_k,
        heat.tip_c,
        heat.entry_c,
        mass,
        _least(metal, mass, build.room.ambient_c, hottest, workings.coil.coil_w),
        _why(metal, word, build.degrees),
    )


def _least(metal, mass_kg, cold_c, hot_c, coil_w):
    top = min(hot_c, metal_value(metal, "melting_low_c").value - 1.0)
    heat = (
        metal_value(metal, "specific_heat_j_kgk").value
        if metal_at(metal, "specific_heat_j_kgk", cold_c) is None
        else mean_between(metal, "specific_heat_j_kgk", cold_c, top)
    )
    return mass_kg * heat * (top - cold_c) / coil_w


def _why(metal, word, degrees):
    """What speaks for or against a metal at its temperature, in a phrase."""
    if metal in NEVER:
        return NEVER[metal]
    if metal == COATED:
        return "zinc fume: take the coat off first"
    note, family = service_note(metal, degrees), family_of(metal)
    if word == "melts":
        return f"begins to melt at {say('limit_c', metal_value(metal, 'melting_low_c').low, degrees=degrees)}"
    if word in ("past its limit", "at its limit"):
        return note.split(";")[0].split(":")[-1].strip() if note else "past its long service"
    return SPEAKS.get(family, "")


@dataclass(frozen=True)
class Rung:
    """One metal of the ladder by hand: ends of its service limit and of its melting, how it stands, drop, cold end
    (degC).
    """

    metal: str
    name: str
    service_c: float
    service_high_c: float
    melting_c: float
    melting_high_c: float
    stands: str
    margin_k: float
    drop_k: float
    cold_c: float

    @property
    def passes(self):
        """Whether the watts can pass at all: not where it melts, nor where its cold end would be frozen."""
        return bool(np.isfinite(self.drop_k) and self.cold_c >= 0)


def metal_ladder(heater_c, through_w, part_length_m, section_m2, keys=LADDER):
    """Metals side by side by hand: a stem with its hot end at one temperature, passing the same watts.

    heater_c: degC at the hot end. through_w: watts that pass. part_length_m, section_m2: of the stem, above 0. keys:
    metals.
    Returns tuple of Rung in the order of keys.  A metal that melts there has no drop (nan); one that cannot pass the
    watts has an endless one.
    Raises Fault: unknown metal, a stem that cannot be.
    """
    made = []
    for key in keys:
        service, (low, high) = (
            metal_value(key, "service_limit_c"),
            (metal_value(key, f"melting_{e}_c") for e in ("low", "high")),
        )
        word, margin, melts = standing(key, heater_c)
        drop = float("nan") if melts <= 0 else drop_from(key, heater_c, through_w, part_length_m, section_m2)[0]
        made.append(
            Rung(
                key,
                metal_name(key),
                service.value,
                service.high,
                low.low,
                low.high if key == COATED else high.value,
                word,
                margin,
                drop,
                heater_c - drop,
            )
        )
    return tuple(made)
