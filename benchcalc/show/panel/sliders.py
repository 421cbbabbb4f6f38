"""What a panel can move, as plain functions without any widget: one build, some changes, the results."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from inspect import isgenerator

import numpy as np

from ...basics.band import Band
from ...basics.fault import Fault, fault
from ...basics.names import display, shown, suffix_of
from ...basics.slices import finished
from ...chain.supply.link import work_supply
from ...chain.workings import as_told, band_text, electrical_bands, electrical_verdicts, links, standing_without
from ...sheet.borrowed import borrowed
from ...sheet.change import change, get


@dataclass(frozen=True)
class Slider:
    """A numeric field to move: path, ends and step in SI, words of its label (the unit is added).

    shown_as: glossary name whose unit it is shown in, "" for that of the path's own.
    """

    path: str
    low: float
    high: float
    step: float
    label: str
    shown_as: str = ""

    @property
    def key(self):
        """The SI name that tells its unit."""
        return self.shown_as or self.path.rsplit(".", 1)[-1]


@dataclass(frozen=True)
class Choice:
    """A text field to choose: path, options ((shown, value), ...) or plain values, label."""

    path: str
    options: tuple
    label: str


@dataclass(frozen=True)
class Moved:
    """The results at one setting: the changed build and all that is shown of it.

    verdicts: None: they come later. rest: whether bands are in. extra: what `slow` gave, or None. refused: why such a
    tool cannot be, or "".
    """

    build: object
    result: object
    extra: object
    numbers: object
    rows: tuple
    verdicts: tuple
    caption: str
    rest: bool
    refused: str = ""


def bands_of(build):
    """The bands of the electrical numbers of a build: the usual `slow` part of a panel.  build: Build."""
    return electrical_bands(build)


def headlines(*rows):
    """A `says` for a panel from rows (word, path): path such as "coil.coil_w".

    rows: pairs. The path's first part names the link: supply, wire or coil.
    Returns function (result, build, bands) -> list of (word, text with band).
    """

    def says(result, build, bands):
        parts, told = dict(zip(("supply", "wire", "coil"), result)), []
        for word, path in rows:
            link, field = path.split(".")
            value = getattr(parts[link], field, float("nan"))
            band = (bands or {}).get(path, Band(value, value, value))
            told.append(
                (
                    word,
                    band_text(replace(band, nominal=value), field, units=build.units, degrees=build.degrees)
                    if np.isfinite(value)
                    else "not known",
                )
            )
        return told

    return says


def judged(result, build, bands):
    """The usual verdicts of a panel.  result: links(build). build: Build. bands: dict or None."""
    return [one for one in electrical_verdicts(build, *result, bands or {}) if one[1].state != "does not apply"]


WINDING_FIELDS = {"coil.pitch_m", "coil.layers", "coil.end_room_m", "coil.anchor_turns"}


@dataclass(frozen=True)
class Telling:
    """What a panel tells beside its picture.

    says(result, build, extra) -> rows (word, text), e.g. headlines(("power", "coil.coil_w")).
    verdicts(result, build, extra) -> list of Verdict or (link, Verdict); unless given, all that links give. None while
    it moves: they come at rest, and the rows are complete without.
    derive(result, build) -> list of Derivation or HTML texts, shown when the slider rests.
    slow(build) -> extra, worked out when the slider rests (None: nothing is); None while it moves.  Where it is long, a
    generator of (done, of, what) that returns extra: it is let go when the slider moves on.
    known(build) -> extra where it was worked out before, else None: then it is shown without a rest.
    caption(result, build) -> text; None: the drawing's own.
    refused(result, build) -> why such a tool cannot be, "" where it can; what is refused is never kept.
    """

    says: Callable
    verdicts: Callable = judged
    derive: Callable | None = None
    slow: Callable | None = bands_of
    known: Callable | None = None
    caption: Callable | None = None
    refused: Callable | None = None


@dataclass(frozen=True)
class Spec:
    """All that a panel shows, as functions of the build.  See `panel` for the arguments."""

    build: object
    sliders: tuple
    work: Callable
    draw: object
    tells: Telling
    borrows: bool = False


def fitting(sliders, build):
    """The sliders whose field is on this sheet.  sliders: Slider or Choice. build: Build.

    A field inside a coil, part or wire that the sheet does not have is left out, so that one list serves every sheet; a
    refused supply has nothing to slide.  Raises Fault where a path is misspelt, i.e. none is left.
    """
    kept, straight = [], build.coil is not None and build.coil.on is None
    supply = work_supply(build)
    refused = supply is not None and bool(supply.refused)
    for s in sliders:
        if (straight and s.path in WINDING_FIELDS) or (refused and s.path.startswith("supply.")):
            continue
        try:
            get(build, s.path)
        except (Fault, AttributeError):
            continue
        kept.append(s)
    if sliders and not kept:
        raise fault("panel", ", ".join(s.path for s in sliders), "are not on this sheet.")
    return tuple(kept)


def start_of(build, slider):
    """Where a slider starts: the sheet's own value; where the sheet is silent, what the links found.

    build: Build. slider: Slider or Choice.
    Returns SI value or text.  An unknown number starts in the middle of its slider.
    """
    value = get(build, slider.path)
    if isinstance(slider, Choice):
        return pairs(slider)[0][1] if value is None else value
    if value is None:
        link, _, field = slider.path.partition(".")
        part = dict(zip(("supply", "wire", "coil"), links(build))).get(link)
        value = getattr(part, field, None)
    known = value is not None and np.isfinite(value)
    return float(value) if known else (slider.low + slider.high) / 2


def pairs(choice):
    """The options of a Choice as (shown, value).  choice: Choice."""
    return tuple(o if isinstance(o, tuple) else (str(o), o) for o in choice.options)


def build_at(spec, moved):
    """The build of a panel with some fields moved.

    spec: Spec. moved: dict of path -> SI value or text.
    Returns Build.  Raises Fault where the change is not possible.
    """
    build = spec.build
    for path, value in moved.items():
        build = change(build, path, value)
    return build


def results_at(spec, moved, rest=True, extra=None, result=None):
    """All that a panel shows when some fields are moved.

    spec: Spec. moved: dict of path -> SI value or text; paths left out stay as the sheet has them. rest: True to work
    out the bands as well, as when the slider rests. extra, result: what `slow` and `work` give there, where known.
    Returns Moved.  Raises Fault where the change is not possible.
    """
    build = build_at(spec, moved)
    result = spec.work(build) if result is None else result
    tells = spec.tells
    if rest and tells.slow and extra is None:
        extra = tells.slow(build)
        extra = finished(extra) if isgenerator(extra) else extra
    numbers = spec.draw.numbers(build, result, rest)
    words = tells.caption(result, build) if tells.caption else spec.draw.caption(numbers)
    return Moved(
        build,
        result,
        extra,
        numbers,
        tuple(tells.says(result, build, extra)),
        told_of(spec, build, tells.verdicts(result, build, extra)),
        words,
        rest,
        tells.refused(result, build) if tells.refused else "",
    )


def told_of(spec, build, verdicts):
    """The verdicts of a panel as they are told where a sheet borrowed or a demo is lent.

    spec: Spec. build: Build as moved. verdicts: list of Verdict or (link, Verdict), or None.
    Returns tuple of Verdict, or None.
    """
    if verdicts is None:
        return None
    stand = standing_without(build) if spec.borrows else None
    return tuple(v for _, v in as_told(build, [v if isinstance(v, tuple) else ("", v) for v in verdicts], stand))


def settings(spec):
    """The settings at which a panel is tried: each slider alone at its ends, all together, and the start.

    spec: Spec.
    Returns list of (name, dict for `results_at`).
    """

    def ends(s):
        return (s.low, s.high) if isinstance(s, Slider) else (pairs(s)[0][1], pairs(s)[-1][1])

    tried = [("start", {})]
    for s in spec.sliders:
        tried += [(f"{s.path} lowest", {s.path: ends(s)[0]}), (f"{s.path} highest", {s.path: ends(s)[1]})]
    both = (("all lowest", 0), ("all highest", 1))
    return tried + [(word, {s.path: ends(s)[k] for s in spec.sliders}) for word, k in both]


@dataclass(frozen=True)
class Scale:
    """A slider in display units: lowest, highest, step, unit, digits after the point."""

    low: float
    high: float
    step: float
    unit: str
    places: int


def scale_of(slider, build):
    """A slider's ends and step in the sheet's units, rounded to steps a person can read.

    slider: Slider. build: Build (its units and degrees; a start outside the ends widens them).
    Returns Scale.
    """
    way = {"units": build.units, "degrees": build.degrees}
    key = slider.key
    unit, size = display(key, **way)
    wanted = slider.step / size
    decade = 10.0 ** np.floor(np.log10(wanted))
    step = float(min((m * decade for m in (1, 2, 2.5, 5, 10)), key=lambda m: abs(np.log(m / wanted))))
    at = start_of(build, slider)
    low, high = (float(shown(key, x, **way)) for x in (min(slider.low, at), max(slider.high, at)))
    at = float(shown(key, at, **way))  # the sheet's own value lies on the slider's steps
    low, high = at - np.floor((at - low) / step + 1e-6) * step, at + np.floor((high - at) / step + 1e-6) * step
    places = next(p for p in range(7) if abs(round(step, p) - step) < 1e-9 * step or p == 6)
    return Scale(round(float(low), 9), round(float(high), 9), round(step, 9), unit, places)


def to_si(slider, build, number):
    """A slider's number in SI.  slider: Slider. build: Build (its units). number: as displayed."""
    key = slider.key
    _, size = display(key, units=build.units, degrees=build.degrees)
    zero = 32.0 if suffix_of(key) == "c" and build.degrees == "F" else 0.0
    return float(f"{(number - zero) * size:.12g}")


def plan(build, sliders, work, draw, tells):
    """A panel's plan, without widgets.

    build, sliders, work, draw, tells: as `panel`.
    Returns Spec.
    """
    return Spec(build, fitting(sliders, build), work, draw, tells, bool(borrowed(build)))
