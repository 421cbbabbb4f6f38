"""What every page says in the same way: the sheet, the cautions, margins, sources, the digits behind."""

import html
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ...basics.band import Band
from ...basics.escape import plain_text
from ...basics.fault import fault
from ...basics.names import NAMES, said_number, say, suffix_of
from ...basics.tables import one
from ...chain.cautions.cautions import cautions_for, is_stop
from ...chain.supply.link import is_guessed
from ...chain.verdict import worst_state
from ...sheet.borrowed import borrowed
from ...sheet.change import get
from .table import as_difference, as_markdown, say_state, table, verdict_table

_HOW = ("measured", "borrowed", "stated", "table", "assumed")
_SAYS = {
    "measured": "read with an instrument",
    "borrowed": "still the demo's: type your own over them, or remove them",
    "stated": "as the sheet says",
    "table": "from data/, with its source",
    "assumed": "nobody said: taken until a reading says better",
}


@dataclass(frozen=True, repr=False)
class Words:
    """Markdown for a page."""

    text: str

    def __repr__(self):
        return self.text

    def _repr_markdown_(self):
        return self.text


def introduce(build):
    """Which sheet this is, and how each of its inputs is known.

    build: Build.
    Returns Words; the first line names the sheet's file and says whether it is an invented demo.
    """
    name = Path(build.file).stem if build.file else build.name
    kind = "invented demo" if build.invented else "your own sheet"
    known = table(("known", "what that means", "inputs"), known_inputs(build))
    lent = ", ".join(borrowed(build))
    lent = f" **Still borrowed from the demo {build.begun_from}, so nothing is fine by them:** {lent}." if lent else ""
    return Words(f"Sheet: {plain_text(name)} ({kind}): {plain_text(build.name)}.{lent}\n\n{as_markdown(known)}")


def known_inputs(build):
    """The inputs by how they are known: list of (how, what that means, inputs in words).  build: Build."""
    rows = [(how, _SAYS[how], "; ".join(_inputs(build, how))) for how in _HOW]
    return [r for r in rows if r[2]]


def _inputs(build, how):
    """What is known in one way, in words and numbers; readings are put together."""
    told, groups, theirs = [], {}, {path for paths in borrowed(build).values() for path in paths}
    hows = {path: "borrowed" if path in theirs else known.how for path, known in build.known.items()}
    hows |= {path: "not of this tool" for path in hows if path.startswith("other_supply.")}
    for path, known in build.known.items():
        section, _, field = path.rpartition(".")
        if hows[path] != how or field in ("factor_place", "loaded_s", "amps_a"):
            continue
        value = get(build, path)
        if field == "volts_v":
            reading = get(build, section)
            groups[section] = f"{say(field, value)} at {say('load_a', reading.amps_a)}"
        elif section.split(".")[0] in ("supply", "wire", "coil", "room", "want", "as_built", "use"):
            told.append(f"{_word(path)} {_spread(build, field, value, known)}")
    told = [*groups.values(), *told]
    others = sum(
        hows[p] == how and p.split(".")[0] not in ("supply", "wire", "coil", "room", "want", "as_built", "use")
        for p in build.known
    )
    return told + ([f"{others} values of parts, joints and layers"] if others else [])


_WORDS = {
    "coil.length_m": "coil length",
    "coil.tails.resistance_ohm": "tails",
    "coil.end_room_m": "end room",
    "coil.anchor_turns": "anchor turns",
    "coil.wire_temp_c": "wire temperature",
    "want.power_w": "wanted power",
    "room.ambient_c": "room",
    "room.air_speed_m_s": "air speed",
    "supply.mains": "mains or charge, against today's",
    "supply.warming": "warm over cold source resistance",
    "use.hours_per_year": "hours a year",
    "coil.pitch_m": "pitch",
    "coil.tails.length_m": "each tail",
}


def _word(path):
    field = path.rsplit(".", 1)[-1]
    if path in _WORDS:
        return _WORDS[path]
    return NAMES[field].word if field in NAMES else field.removesuffix("_" + suffix_of(field)).replace("_", " ")


def _spread(build, field, value, known):
    way = {"units": build.units, "degrees": build.degrees}
    if known.low == known.high:
        return known.text if known.how == "stated" and known.text and not np.ndim(value) else say(field, value, **way)
    low, high = (said_number(field, x, **way) for x in (known.low, known.high))
    return f"{say(field, value, **way)} ({low} to {high})"


def not_moving():
    """The line for a page that is not running yet."""
    return Words("*Not moving? Choose **Run**, then **Run All Cells**.*")


def cautions(build, workings, only=None, extra=()):
    """The box of cautions that apply to this build.

    build: Build. workings: Workings. only: ids of data/cautions.csv to keep, None for all that
    apply; a caution that says stop is always kept, and stands first. extra: facts that the page itself brings,
    e.g. ("supply loaded",).
    Returns Words.
    """
    rows = [r for r in cautions_for(build, workings, extra) if only is None or r["id"] in only or is_stop(r)]
    rows.sort(key=lambda r: not is_stop(r))
    if not rows:
        return Words("> **Caution.** None of the listed cautions applies to this sheet; hot wire still burns.")
    lines = [f"> - {r['sentence']} *Defer to: {r['defer_to']}.*" for r in rows]
    return Words("\n".join(["> **Caution**", ">", *lines]))


def at_a_glance(build, workings):
    """The chain at a glance: each link with its state in mark and word, and its main numbers.

    build: Build. workings: Workings.
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = []
    for link, part in _worked(workings):
        verdicts = workings.of(link.name)
        state = worst_state(verdicts) if part is not None else "not known"
        open_ones = [
            f"{say_state(v.state, v.advice)}: {v.named}" for v in verdicts if v.state in ("over", "tight", "not known")
        ]
        rows.append(
            (link.name.replace("_", "-"), say_state(state), _main(link, part, way), "\n".join(open_ones) or "–")
        )
    return table(("link", "state", "main numbers", "to look at"), rows)


def _worked(workings):
    """The links that have a part, with it, in order."""
    return [(link, workings.parts[link.name]) for link in workings.links if link.name in workings.parts]


def _main(link, part, way):
    if part is None:
        return "–"
    return "\n".join(
        f"{NAMES[f].word if f in NAMES else f}: {say(f, getattr(part, f), **way)}"
        for f in link.headline
        if np.isfinite(getattr(part, f)) and not is_guessed(part, f)
    )


def verdicts(workings, link=None, build=None):
    """The verdicts as a table, the worst first.

    workings: Workings. link: "supply", "wire", "coil", or None for all. build: Build, for its units.
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees} if build else {}
    return verdict_table([v for name, v in workings.verdicts if link in (None, name)], **way)


_ORDER = ("over", "tight", "not known", "fine", "does not apply")


def worst(workings, n=1, links=None):
    """The verdicts that matter most: over before tight before fine, advice after the rest.

    workings: Workings. n: how many; among the fine ones those with the least margin for their limit. links: names of
    links, None for all.
    Returns list of Verdict.
    """

    def rank(v):
        share = v.margin / abs(v.limit) if v.limit and np.isfinite(v.margin) else np.inf
        return _ORDER.index(v.state), v.advice, share

    return sorted((v for link, v in workings.verdicts if links is None or link in links), key=rank)[:n]


def margin_line(workings, n=1, build=None, links=None):
    """Value, limit, source and margin of the worst verdicts, a line each.

    workings: Workings. n: how many. build: Build, for its units. links: names of links, None for all.
    Returns Words.
    """
    way = {"units": build.units, "degrees": build.degrees} if build else {}
    lines = []
    for v in worst(workings, n, links):
        if v.state in ("not known", "does not apply"):
            lines.append(
                f"**{plain_text(v.named)}**: {v.state}{': borrowed' if v.borrowed else ''}. {plain_text(v.why)}"
            )
            continue
        lines.append(
            f"**{plain_text(v.named)}**: {say_state(v.state, v.advice)}; value {say(v.key, v.value, **way)}, {v.sense} "
            f"{say(v.key, v.limit, **way)}, margin {say(as_difference(v.key), v.margin, **way)}. "
            f"Source: {plain_text(v.source)}."
        )
    return Words("  \n".join(lines))


def summary(workings, build=None):
    """What came out, link by link, in sentences computed from the results.

    workings: Workings. build: Build, for its units.
    Returns Words.
    """
    way = {"units": build.units, "degrees": build.degrees} if build else {}
    lines = []
    for link, part in _worked(workings):
        name, own = link.name.replace("_", "-"), workings.of(link.name)
        counts = [(s, sum(v.state == s for v in own)) for s in _ORDER]
        told = ", ".join(f"{n} {s}" for s, n in counts if n and s != "does not apply") or "nothing to judge"
        numbers = _main(link, part, way).replace("\n", "; ")
        lines.append(
            f"- **{name}**: {plain_text(numbers)} ({told})."
            if part is not None
            else f"- **{name}**: not on the sheet yet."
        )
        lines += [
            f"  - {say_state(v.state, v.advice)}: {plain_text(v.why)}" for v in own if v.state in ("over", "tight")
        ]
    return Words("\n".join(lines))


def numbers_behind(workings=None, *paths, samples=(), **values):
    """Print a page's results, one a line, for strict comparison.

    workings: Workings, or None. paths: results of it, e.g. "coil.coil_w". samples: names of values
    that come from samples or fits, printed to three digits. values: SI numbers, Bands (their ends
    count as samples), arrays, texts, None (not known); names end in their unit.
    Returns None.
    """
    values = {path: getattr(getattr(workings, path.split(".")[0]), path.split(".")[1], None) for path in paths} | values
    for name, value in values.items():
        figures = 3 if name in samples else 5
        if isinstance(value, Band):
            print(f"{name} = {_plain(value.nominal, figures)} ({_plain(value.low, 3)} to {_plain(value.high, 3)})")
        elif value is None or isinstance(value, str):
            print(f"{name} = {'not known' if value is None else value}")
        else:
            print(f"{name} = " + ", ".join(_plain(x, figures) for x in np.ravel(value)))


def _plain(value, figures):
    if isinstance(value, (bool, np.bool_)):
        return str(bool(value))
    return f"{float(value):.{figures}g}"


def answer(text, title="answer"):
    """A folded answer.  text: Markdown. title: the words to click on.  Returns Words."""
    return Words(f"<details><summary>{html.escape(title)}</summary>\n\n{text}\n\n</details>")


def sources(*ids):
    """The list of sources a page stands on.

    ids: of data/sources.csv, e.g. "ASTM-B258".  Raises Fault for an unknown one.
    Returns Words.
    """
    if not ids:
        raise fault("sources", "", "needs at least one id of data/sources.csv.")
    rows = [one("sources", "source_id", i) for i in ids]
    return Words(
        "\n".join(f"- **{r['source_id']}** ({r['kind']}): {r['reference']}. *Taken: {r['taken']}.*" for r in rows)
    )
