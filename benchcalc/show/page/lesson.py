"""What every page says in the same way: the sheet, the cautions, margins, sources, the digits behind."""

import html

import numpy as np

from ...basics.band import Band
from ...basics.escape import plain_text
from ...basics.fault import fault
from ...basics.names import NAMES, say
from ...basics.tables import one
from ...chain.as_told import is_untold
from ...chain.cautions.cautions import cautions_for, is_stop
from ...chain.heat.melting_wire import alloy_melts_c, told_c
from ...chain.verdict import worst_state
from ..editor.form_words import on_page
from .inputs import inputs_used as inputs_used
from .inputs import introduce as introduce
from .inputs import known_inputs as known_inputs
from .inputs import sheet_line as sheet_line
from .table import as_difference, as_html, say_state, table, verdict_table
from .words import Words, caution_box


def top(*told):
    """What stands above a page's panel, in as few lines as can be.  told: Words; empty ones are left out."""
    return Words("  \n".join(w.text for w in told if w.text))


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
    return caution_box(rows)


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
            (
                link.name.replace("_", "-"),
                say_state(state),
                _main(workings, link, part, way),
                "\n".join(open_ones) or "–",
            )
        )
    return table(("link", "state", "main numbers", "to look at"), rows)


def _worked(workings):
    """The links that have a part, with it, in order."""
    return [(link, workings.parts[link.name]) for link in workings.links if link.name in workings.parts]


def _main(workings, link, part, way):
    if part is None:
        return "–"
    melts_c, fields, words = alloy_melts_c(getattr(workings.wire, "alloy", None)), list(link.headline), {}
    if "wire_c" in fields and getattr(part, "tails_c", np.nan) > part.wire_c:  # tails are wire too
        fields.insert(fields.index("wire_c"), "tails_c")
        words = {"wire_c": "hottest wire in the winding"}
    return "\n".join(
        f"{words.get(f, NAMES[f].word if f in NAMES else f)}: {told_c(f, getattr(part, f), melts_c, **way)}"
        for f in fields
        if np.isfinite(getattr(part, f)) and not is_untold(workings, link.name, f)
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
                f"**{plain_text(v.named)}**: {v.state}{': borrowed' if v.borrowed else ''}. "
                f"{plain_text(on_page(v.why))}"
            )
            continue
        margin = "–" if v.melts(v.value) else say(as_difference(v.key), v.margin, **way)
        lines.append(
            f"**{plain_text(v.named)}**: {say_state(v.state, v.advice)}; value {_against(v, way)}, margin {margin}. "
            f"Source: {plain_text(v.source)}."
        )
    return Words("  \n".join(lines))


def _against(verdict, way):
    """The value of a verdict and its limit, in words.  verdict: Verdict. way: units and degrees, as names.say."""
    return f"{verdict.said(verdict.value, **way)}, {verdict.sense} {say(verdict.key, verdict.limit, **way)}"


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
        numbers = _main(workings, link, part, way).replace("\n", "; ")
        lines.append(
            f"- **{name}**: {plain_text(numbers)} ({told})."
            if part is not None
            else f"- **{name}**: not on the sheet yet."
        )
        lines += [
            f"  - {say_state(v.state, v.advice)}: {plain_text(v.named)} ({_against(v, way)}). "
            f"{plain_text(on_page(v.why))}"
            for v in own
            if v.state in ("over", "tight")
        ]
    return Words("\n".join(lines))


def numbers_behind(workings=None, *paths, samples=(), **values):
    """Print a page's results, one a line, for strict comparison.

    workings: Workings, or None. paths: results of it, e.g. "coil.coil_w". samples: names of values
    that come from samples or fits, printed to three digits. values: SI numbers, Bands (their ends
    count as samples), arrays, texts, None (not known); names end in their unit.
    Returns None.
    """
    found = {path: getattr(getattr(workings, path.split(".")[0]), path.split(".")[1], None) for path in paths}
    values = {path: None if is_untold(workings, *path.split(".")) else value for path, value in found.items()} | values
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


def folded(title, table):
    """A table under a line to click on.  title: plain text. table: Table.  Returns Words."""
    return answer(as_html(table), title)


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
