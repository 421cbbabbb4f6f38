"""The verdicts on metals: melting, long service, fits that stretch, joints that hold the heat back."""

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import source_words
from ...materials.bulk import solid_key
from ...materials.metals import family_of, metal_key, metal_name, metal_value, service_note
from ..heat.solid_verdicts import HOTTEST
from ..verdict import Limit, judge, unknown

CHECK = "; check the maker's sheet"
SHARE = 0.1  # a joint matters when it takes more than a tenth of the rise (own judgement)
SEIZES_C = 300.0  # steel threads scale together above this in long service (common practice, no source)
THREADS = ("threaded", "clearance with set screw")
LOADED = (*THREADS, "pressed")
LAME = "Lame's thick tube; strength from data/metal_yield.csv, from memory: check the standard of the steel"


def metal_checks(build, metals, bands):
    """Verdicts on the metal parts.

    build: Build. metals: MetalsPart or None. bands: part's id -> Band of its hottest place.
    Returns list of Verdict.  A service limit past its cautious end is advice up to its boldest end, and flat over
    beyond that.
    """
    if metals is None:
        return []
    made = []
    for id, metal, hottest in zip(metals.ids, metals.metals, metals.hottest_c):
        band = bands.get(id)
        made += limit_checks(id, metal, hottest, band, build.degrees)
    made += (
        [_fit(f) for f in metals.fits]
        + [_thread(metals, j, bands) for j in metals.joints if j.made.startswith(THREADS)]
        + [made for j in metals.joints if j.made.startswith(LOADED) for made in _under_load(metals, j, bands)]
        + [j for j in [_worst_joint(metals)] if j is not None]
    )
    return made


def limit_checks(id, metal, hottest_c, band=None, degrees="C"):
    """Melting and long service of one part.

    id: part. metal: key. hottest_c: degC, float or array. band: Band of it, or None. degrees: "C" or "F", for the
    words.
    Returns two Verdicts.
    """
    return [_melting(id, metal, hottest_c, band), _service(id, metal, hottest_c, band, degrees)]


def melting_checks(build, heat):
    """Melting of each metal part of a heated tool, quickly, for a panel.

    build: Build (floats). heat: HeatPart that is not refused.
    Returns list of Verdict.
    """
    metals = {p.id: p.material for p in build.part if p.material and solid_key(p.material)[0] == "metals"}
    return [_melting(i, metal_key(metals[i]), float(heat.hottest(i)), None) for i in heat.part_ids if i in metals]


def service_checks(build, hottest, bands):
    """Long service of each metal part, quickly, for a panel.

    build: Build (floats). hottest: id of a part -> its hottest place, degC. bands: path -> Band, as `part_bands`.
    Returns list of Verdict.
    """
    metals = {p.id: metal_key(p.material) for p in build.part if p.material and solid_key(p.material)[0] == "metals"}
    return [_service(i, metals[i], c, bands.get(HOTTEST + i), build.degrees) for i, c in hottest.items() if i in metals]


def _melting(id, metal, hottest_c, band):
    found = metal_value(metal, "melting_low_c")
    return judge(
        f"melting of the {id}",
        "hottest_c",
        hottest_c,
        Limit(found.low, "at most", source_words(found.source_id) + (CHECK if found.basis == "memory" else "")),
        why=(
            f"{_capital(metal_name(metal))} begins to melt here; it loses its shape, and its strength is gone well "
            "before." + (f" Table: {found.note}." if found.note and metal == "galvanised-steel" else "")
        ),
        band=band,
    )


def _service(id, metal, hottest_c, band, degrees):
    found = metal_value(metal, "service_limit_c")
    name, note = _capital(metal_name(metal).split(",")[0]), service_note(metal, degrees) or "long service in air"
    return judge(
        f"long service of the {id}",
        "hottest_c",
        hottest_c,
        Limit(
            found.value,
            "at most",
            source_words(found.source_id) + CHECK,
            advice=bool(np.all(np.asarray(hottest_c) <= found.high)),
        ),
        why=(
            f"{name}: {note}."
            + (
                f" The boldest figure is {say('limit_c', found.high, degrees=degrees)}."
                if found.high > found.value
                else ""
            )
        ),
        band=band,
    )


def _capital(text):
    return text[:1].upper() + text[1:]


def _fit(fit):
    """One row: will the tube split?"""
    what = f"fit of the {fit.plug} in the {fit.tube}: will it split"
    worse = max(
        (fit.cold, fit.hot), key=lambda f: f.stress_pa / f.yield_pa if f.yield_pa == f.yield_pa else f.stress_pa
    )
    gap = f"Gap on the diameter {_microns(fit.cold.cold_gap_m)} cold, {_microns(fit.hot.hot_gap_m)} hot."
    if fit.pressed and not fit.typed:
        gap = "The sheet gives both the same diameter, so only what heat adds is counted. " + gap
    if np.isnan(worse.yield_pa) and worse.stress_pa > 0:
        return unknown(
            what,
            "stress_pa",
            why=gap + " No strength at this temperature in the tables: a brittle tube cracks, a soft one creeps.",
            source=LAME,
        )
    limit = worse.yield_pa if np.isfinite(worse.yield_pa) else fit.cold.yield_pa
    gives = {fit.cold.gives, fit.hot.gives}
    if "tube" in gives:
        said = "The tube stretches for good and is loose when cold; at a bad seam, or if it is brittle, it splits. "
        said += "Give it clearance."
    elif "plug" in gives:
        said = "The plug is the softer: it creeps, and the fit is loose when cold. Pin it or screw it."
    elif worse.stress_pa > 0:
        said = "It stays elastic."
    else:
        said = "Nothing presses; something else must hold it when hot." if fit.hot.hot_gap_m > 0 else "Nothing presses."
    if np.isfinite(fit.bite_m):
        said += (
            f" Its set screw, of steel, {'bites' if fit.bite_m >= 0 else 'lets go by'} {_microns(abs(fit.bite_m))}"
            + (" deeper when hot: try it when cold." if fit.bite_m >= 0 else " when hot.")
        )
    band = Band(worse.stress_pa, worse.stress_low_pa, worse.stress_high_pa)
    return judge(
        what,
        "stress_pa",
        worse.stress_pa,
        Limit(limit, "at most", LAME, advice="tube" not in gives),
        why=f"{gap} {said}",
        band=band,
    )


def _thread(metals, joint, bands):
    """Whether a thread, or a set screw's, will seize."""
    families = {family_of(m) for i, m in zip(metals.ids, metals.metals) if i in (joint.first, joint.second)}
    galls = " Stainless in stainless galls even cold." if families == {"stainless steel"} else ""
    return judge(
        f"thread of the {joint.first} and the {joint.second}: will it seize",
        "hottest_c",
        joint.hot_c,
        Limit(SEIZES_C, "at most", "common practice, no source", advice=True),
        why=(
            "Above this a steel thread scales and sticks; graphite or copper paste, and a turn while warm, keep it "
            "free." + galls
        ),
        band=_at_joint(metals, joint, bands),
    )


def _at_joint(metals, joint, bands):
    """Band of a joint's hotter side: it moves with the hottest place of the hotter part."""
    band = bands.get(joint.first)
    if band is None:
        return None
    off = joint.hot_c - metals.hottest_c[metals.ids.index(joint.first)]
    return Band(joint.hot_c, band.low + off, band.high + off)


def _under_load(metals, joint, bands):
    """Whether a thread or press fit lasts in a metal whose limit under load lies below that of an unstressed part."""
    for id, metal in zip(metals.ids, metals.metals):
        found = metal_value(metal, "loaded_limit_c")
        if id not in (joint.first, joint.second) or found is None:
            continue
        note = f" ({found.note})" if found.note else ""
        yield judge(
            f"creep of the {id} at its joint with the {joint.second if id == joint.first else joint.first}",
            "hottest_c",
            joint.hot_c,
            Limit(found.low, "at most", source_words(found.source_id) + CHECK, advice=True),
            why=(
                f"{_capital(metal_name(metal).split(',')[0])} creeps under load above this{note}: a thread loosens, "
                "a press fit lets go. An unstressed tip goes further; tighten it cold now and then, or pin it."
            ),
            band=_at_joint(metals, joint, bands),
        )


def _microns(length_m):
    return f"{length_m * 1e6 + 0.0:.0f} um" + (", squeezed" if length_m < -5e-7 else "")


def _worst_joint(metals):
    known = [j for j in metals.joints if np.isfinite(j.share)]
    if not known:
        return None
    j = max(known, key=lambda j: j.share)
    rise = j.drop_k / j.share if j.share > 0 else 0.0
    return judge(
        f"drop across the joint of {j.first} and {j.second}",
        "drop_k",
        j.drop_k,
        Limit(SHARE * rise, "at most", "a tenth of the rise, own judgement", advice=True),
        why=(
            f"{j.through_w:.2g} W cross this joint ({j.made}), and it takes {j.share:.0%} of the rise of the "
            f"{j.first}. "
            + (
                "Better contact is worth the work here."
                if j.share > SHARE
                else "Better contact would hardly be felt: a joint matters only where the watts must cross it."
            )
        ),
    )
