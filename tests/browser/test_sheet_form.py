"""The whole job by form alone, no text editor: from nothing to a tool, typed while it computes, kept, and read off."""

import re
import tomllib

import pytest
from browser.lab import opened, running_lab

import benchcalc as bc
from benchcalc.studies.mend_first import mend_first

# (button of the group, (heading of the section, row, label of the field, what is typed) ...); rows are added in order
WAY = (
    ("tool", (("What it must do", 0, "wanted power", "18 W"),)),
    (
        "supply",
        (
            ("The supply", 0, "kind of supply", "=transformer"),
            ("Readings at the supply", 0, "volts read", "17.9"),
            ("Readings at the supply", 0, "amps read (0: no load)", "0"),
            ("Readings at the supply", 0, "instrument", "=cheap multimeter"),
            ("Readings at the supply", 1, "volts read", "16,2 V"),
            ("Readings at the supply", 1, "amps read (0: no load)", "1.4 A"),
            ("Readings at the supply", 1, "instrument", "=cheap multimeter"),
        ),
    ),
    (
        "wires",
        (
            ("Wires", 0, "name of the reel or piece", "reel"),
            ("Wires", 0, "alloy", "nickel-chromium 80/20"),
            ("Wires", 0, "diameter of round wire", "0.3 mm"),
            ("Wires", 1, "name of the reel or piece", "old spiral"),
            ("Wires", 1, "AWG or SWG number", "28 AWG"),
        ),
    ),
    (
        "parts",
        tuple(
            ("Parts", row, label, text)
            for row, texts in enumerate(
                (
                    ("tip", "tip", "brass", "0 mm", "26 mm", "", "8 mm"),
                    ("rod", "stem", "iron rod", "26 mm", "76 mm", "", "6 mm"),
                    ("tube", "tube", "stainless steel", "20 mm", "170 mm", "8.2 mm", "10 mm"),
                    ("handle", "handle", "willow", "115 mm", "20 cm", "10 mm", "1 in"),
                )
            )
            for label, text in zip(
                (
                    "name of the part",
                    "what it does (tip, tube, handle, ...)",
                    "material",
                    "begins, from the tip",
                    "ends, from the tip",
                    "inner diameter",
                    "outer diameter",
                ),
                texts,
            )
            if text
        ),
    ),
    (
        "coil",
        (
            ("The coil", 0, "which wire is wound", "=reel"),
            ("The coil", 0, "which part it lies on", "=rod"),
            ("The coil", 0, "wire length in the coil", "700 mm"),
            ("The coil", 0, "mounting", "bench tool core in a tube"),
            ("Its tails", 0, "insulation that sleeves them", "bare glass sleeve"),
            ("Its tails", 0, "ohms of both tails", "0.1 ohm +- 0.05 ohm"),
        ),
    ),
    (
        "joints, layers",
        (
            ("Joints", 0, "the two parts that touch", "=tip"),
            ("Joints", 0, "and", "=rod"),
            ("Joints", 0, "how the joint is made", "screwed in"),
            ("Layers of insulation", 0, "part and part, coil or room around it", "=rod"),
            ("Layers of insulation", 0, "and", "=coil"),
            ("Layers of insulation", 0, "material", "mica"),
            ("Layers of insulation", 0, "thickness", "0.2 mm"),
        ),
    ),
)


@pytest.fixture(scope="module")
def own_lab(chromium, served, tmp_path_factory):
    """A JupyterLab of a maker who has no sheet yet: (address, folder of his sheets)."""
    my = tmp_path_factory.mktemp("my")
    with running_lab(served, tmp_path_factory.mktemp("own_home"), BENCHCALC_MY=str(my), BENCHCALC_SHEET="") as started:
        yield started[0], my


def section_of(page, heading):
    """The part of the form below a heading."""
    found = page.locator(".bench-section").filter(has=page.locator(f"b:text-is('{heading}')"))
    found.wait_for(timeout=60_000)
    return found


def put_in(page, heading, row, label, text):
    """Type a text into a field, or choose it (=text); rows that are not there yet are added."""
    section = section_of(page, heading)
    rows = section.locator(".bench-row")
    if rows.count() <= row:
        section.get_by_role("button", name=re.compile("^add a ")).click()
        rows.nth(row).wait_for(timeout=60_000)
    field = rows.nth(row).get_by_label(label, exact=True).first
    field.wait_for(timeout=60_000)
    if text.startswith("="):
        page.wait_for_function(  # what was named in another group is offered as soon as it is worked out
            "([box, text]) => [...box.options].some(o => o.value === text)",
            arg=[field.element_handle(), text[1:]],
            timeout=60_000,
        )
        field.select_option(value=text[1:])
    else:
        field.click()
        page.keyboard.type(text)
        page.keyboard.press("Tab")


def test_from_nothing_to_a_tool_by_form_alone(browser, own_lab, shots):
    address, my = own_lab
    with opened(browser, address, "notebooks/00_start_here.ipynb") as page:
        page.get_by_placeholder("name of the new one").fill("my_iron")
        page.keyboard.press("Tab")
        page.get_by_role("button", name="an empty sheet", exact=True).click()
        page.get_by_text("A new sheet").wait_for(timeout=60_000)
        typed = []
        for group, fields in WAY:
            page.get_by_role("button", name=re.compile(rf"^{group}( ▲\d+)?$")).click()
            for heading, row, label, text in fields:
                put_in(page, heading, row, label, text)
                typed.append((group, heading, row, label, text))
        # while all that was worked out, no field lost what was typed in it
        for group, heading, row, label, text in typed:
            if group == "joints, layers" and not text.startswith("="):
                box = section_of(page, heading).locator(".bench-row").nth(row).get_by_label(label, exact=True).first
                assert box.input_value() == text
        page.get_by_text("Settled, with nothing to melt").wait_for(timeout=120_000)
        words = page.get_by_text("Settled, with nothing to melt").first.inner_text()
        page.get_by_text("What cures it", exact=True).wait_for(timeout=120_000)  # tried out while nothing is typed
        first_limit = page.locator(".widget-html ol > li").first.inner_text()
        cures = " ".join(page.locator(".widget-html ul > li").all_inner_texts()).lower()
        page.screenshot(path=shots / "sheet_form.png", full_page=True)
        page.get_by_role("button", name="check and keep", exact=True).click()
        page.get_by_text("Kept in").wait_for(timeout=60_000)
    build = bc.load(my / "my_iron.toml")
    workings = bc.work_out(build)
    found, heat = mend_first(build, workings), workings.heat
    cured = next(m for m in found.first if m.cure is not None)  # never leaving it alone is no change of the tool
    assert found.first[0].verdict.what in first_limit and cured.cure.words in cures
    tip, entry = (float(re.search(rf"{word} (\d+) degC", words)[1]) for word in ("tip", "tube at the handle"))
    assert tip == pytest.approx(heat.tip_c, abs=0.6) and entry == pytest.approx(heat.entry_c, abs=0.6)
    assert [w.id for w in build.wire] == ["reel", "old spiral"] and build.coil.on == "rod"
    assert build.part[1].material == "iron rod" and build.part[3].outer_m == pytest.approx(0.0254)
    text = (my / "my_iron.toml").read_text(encoding="utf-8")
    said = {str(v) for t in _leaves(tomllib.loads(text)) for v in t}
    for _, _, _, _, what in typed:
        assert what.lstrip("=") in said or what in ("17.9", "0"), what


def _leaves(thing):
    """Every value of a parsed sheet."""
    if isinstance(thing, dict):
        for value in thing.values():
            yield from _leaves(value)
    elif isinstance(thing, list):
        for value in thing:
            yield from _leaves(value)
    else:
        yield (thing,)
