"""What of a sheet is still the evidence of the demo that it was begun from: borrowed, not measured."""

from dataclasses import replace
from functools import lru_cache

from .build import AsBuilt, Build
from .build_supply import Soak
from .choose import demos, sheet_path
from .learned import without_learned
from .load import load

CORE = ("core", "core_width_m", "core_stack_m")
OHMS = ("measured_ohm", "measured_length_m", "leads_ohm")


@lru_cache(maxsize=8)  # the demos themselves, read once
def _demo(name):
    return load(sheet_path(name)) if name in demos() else None


def borrowed(build: Build) -> dict:
    """The evidence of a sheet that equals that of the demo it was begun from.

    build: Build.
    Returns dict of word ("readings", "core", "soak test", "ohms of a wire", "logs", "markers", "finished coil", "what
    was learned") -> paths of the inputs.  Empty for a demo itself and for a sheet that was not begun from one.  Values
    of one's own in their place count as measured again.
    """
    demo = _demo(build.begun_from) if build.begun_from and not build.invented else None
    if demo is None:
        return {}
    found = {}
    readings = [i for i, r in enumerate(build.supply.reading) if r in demo.supply.reading]
    found["readings"] = [f"supply.reading.{i}.{f}" for i in readings for f in ("volts_v", "amps_a")]
    if build.supply.core is not None and all(getattr(build.supply, f) == getattr(demo.supply, f) for f in CORE):
        found["core"] = [f"supply.{f}" for f in CORE if getattr(build.supply, f) is not None]
    if build.soak == demo.soak != Soak():
        found["soak test"] = [path for path in build.known if path.startswith("soak.")]
    theirs = {tuple(getattr(w, f) for f in OHMS) for w in demo.wire if w.measured_ohm is not None}
    wires = [w for w in build.wire if tuple(getattr(w, f) for f in OHMS) in theirs]
    found["ohms of a wire"] = [f"wire.{w.id}.{f}" for w in wires for f in OHMS]
    found["logs"] = [f"log.{i}" for i, x in enumerate(build.log) if x.file in {y.file for y in demo.log}]
    found["markers"] = [f"marker.{i}" for i, x in enumerate(build.marker) if x in demo.marker]
    if replace(build.as_built, reading=()) == replace(demo.as_built, reading=()) != AsBuilt():
        found["finished coil"] = [path for path in build.known if path.startswith("as_built.")] or ["as_built"]
    theirs = [e for e in build.learned if _taught_by(demo, build, e)]
    found["what was learned"] = [e.path for e in theirs if e.path]
    return {word: paths for word, paths in found.items() if paths}


def _taught_by(demo, build, entry):
    """Whether a learned input comes from readings of the demo, however many others stand beside them."""
    lent = [x.file for x in demo.log if x.file] + [m.material for m in demo.marker if m in build.marker and m.material]
    return any(word in (entry.log or "") for word in lent)


def without_borrowed(build: Build) -> Build:
    """The build without what it borrowed, to see what still stands.

    build: Build (floats).
    Returns Build; with one borrowed reading all readings go, for they hold one line together.
    """
    words = borrowed(build)
    build = without_learned(build) if "what was learned" in words else build
    supply = build.supply
    if "readings" in words:
        supply = replace(supply, reading=())
    if "core" in words:
        supply = replace(supply, **dict.fromkeys(CORE))
    theirs = {path.split(".")[1] for path in words.get("ohms of a wire", ())}
    return replace(
        build,
        supply=supply,
        soak=Soak() if "soak test" in words else build.soak,
        wire=tuple(replace(w, measured_ohm=None, measured_length_m=None) if w.id in theirs else w for w in build.wire),
        log=tuple(x for i, x in enumerate(build.log) if f"log.{i}" not in words.get("logs", ())),
        marker=tuple(x for i, x in enumerate(build.marker) if f"marker.{i}" not in words.get("markers", ())),
        as_built=AsBuilt() if "finished coil" in words else build.as_built,
    )
