"""Stored workbooks are complete, canonical in form, comparable and in the house's layout.

nbval executes and compares them; here only what is stored is read.
"""

import json
import re
from collections import defaultdict

import pytest
from canonical import DEMO, KERNELSPEC, LANGUAGE, ROOT, WIDGET_VIEW, sheet_named_in, source_of, texts_of, workbooks

LONGEST_CELL_LINES = 20
TAGS = {"nbval-ignore-output", "hide-input", "raises-exception"}
LIVE = re.compile(r"\b(?:\w+_)?(?:panel|form)\(")
UNCOMPARABLE = ("np.float64(", " at 0x", "<Figure", "IPY_MODEL_")
OWN_FORM = ("00", "10")  # the first page and the build card need not ask a question


def in_class(path):
    """Whether a page belongs to the class: it asks before it shows, and needs no sheet."""
    return path.parent.name == "class"


def name_of(path):
    return path.relative_to(ROOT / "notebooks").as_posix()


@pytest.fixture(params=workbooks(), ids=name_of)
def page(request):
    return request.param, json.loads(request.param.read_text(encoding="utf-8"))


def code_cells(notebook):
    return [cell for cell in notebook["cells"] if cell["cell_type"] == "code"]


def tags_of(cell):
    return set(cell["metadata"].get("tags", []))


def where(cell):
    return f"cell {cell.get('id')}: {source_of(cell)[:60]!r}"


def test_there_are_workbooks():
    assert {"00_start_here.ipynb", "02_wire_sizing.ipynb"} <= {path.name for path in workbooks()}


def test_cells_were_run_in_order_from_one(page):
    counts = [cell["execution_count"] for cell in code_cells(page[1])]
    assert counts == list(range(1, len(counts) + 1))


def test_no_cell_failed_or_warned(page):
    for cell in code_cells(page[1]):
        for output in cell["outputs"]:
            if output["output_type"] == "error":
                assert "raises-exception" in tags_of(cell), where(cell)
                assert len(output["traceback"]) == 1, f"traceback kept in {where(cell)}"
            assert output.get("name") != "stderr", f"warning kept in {where(cell)}"
            for _, text in texts_of(output):
                assert "Traceback (most recent call last)" not in text, where(cell)


def test_metadata_is_canonical(page):
    path, notebook = page
    assert notebook["metadata"] == {"kernelspec": KERNELSPEC, "language_info": LANGUAGE}, (
        f"run `python tests/canonical.py notebooks/{name_of(path)}`"
    )
    for cell in notebook["cells"]:
        assert not {"execution", "ExecuteTime", "scrolled", "collapsed"} & set(cell["metadata"]), where(cell)
        for output in cell.get("outputs", []):
            assert WIDGET_VIEW not in output.get("data", {}), where(cell)


def test_cell_ids_are_unique(page):
    ids = [cell.get("id") for cell in page[1]["cells"]]
    assert None not in ids and len(set(ids)) == len(ids)


def test_code_cells_are_short(page):
    for cell in code_cells(page[1]):
        lines = len(source_of(cell).splitlines())
        assert lines <= LONGEST_CELL_LINES, f"{lines} lines in {where(cell)}"


def test_code_is_folded_and_the_page_says_how_to_show_it(page):
    codes = [cell for cell in page[1]["cells"] if cell["cell_type"] == "code"]
    for cell in codes:
        assert cell["metadata"].get("jupyter", {}).get("source_hidden") and "hide-input" in tags_of(cell), where(cell)
    assert "Expand All Code" in source_of(page[1]["cells"][0])


def test_tags(page):
    for cell in page[1]["cells"]:
        assert tags_of(cell) <= TAGS, where(cell)
        if cell["cell_type"] == "code":
            for word in ("NBVAL_", "PYTEST_VALIDATE_"):
                assert word not in source_of(cell), f"comparison switched off by a comment in {where(cell)}"


def test_only_live_cells_are_left_uncompared_and_each_is_followed_by_its_numbers(page):
    cells = code_cells(page[1])
    for cell, after in zip(cells, cells[1:] + [None]):
        if "nbval-ignore-output" not in tags_of(cell):
            continue
        assert LIVE.search(source_of(cell)), f"nothing live in {where(cell)}"
        assert after is not None and "nbval-ignore-output" not in tags_of(after) and after["outputs"], (
            f"no compared worked example follows {where(cell)}"
        )


def test_compared_outputs_do_not_depend_on_the_machine(page):
    for cell in code_cells(page[1]):
        if "nbval-ignore-output" in tags_of(cell):
            continue
        for output in cell["outputs"]:
            for kind, text in texts_of(output):
                for word in UNCOMPARABLE:
                    assert word not in text, f"{word!r} in {kind} of {where(cell)}"


def test_the_first_code_cell_names_the_demo_sheet(page):
    assert in_class(page[0]) or sheet_named_in(page[1]) == DEMO


def test_the_title_is_a_question(page):
    path, notebook = page
    title = source_of(notebook["cells"][0]).strip().splitlines()[0]
    assert notebook["cells"][0]["cell_type"] == "markdown" and title.startswith("# "), path.name
    numbered = path.parent.name == "notebooks" and re.match(r"\d\d_", path.name)
    if numbered and not path.name.startswith(OWN_FORM):
        assert title.endswith("?"), title


def test_the_last_code_cell_lists_the_numbers_behind_the_page(page):
    last = code_cells(page[1])[-1]
    assert "numbers_behind" in source_of(last) and last["outputs"], where(last)
    assert "nbval-ignore-output" not in tags_of(last)


def sentences(markdown):
    """Sentences of eight or more words outside code blocks, in lower case and without markup."""
    text = re.sub(r"(```|~~~).*?\1", "\n", markdown, flags=re.S)
    text = re.sub(r"^(#+ .*)$", r"\1\n", text, flags=re.M)
    for block in re.split(r"\n\s*\n|\n\s*(?:[-*>|#]|\d+\.)\s*", text):
        for sentence in re.split(r"(?<=[.!?:;])\s+", " ".join(block.split())):
            words = re.findall(r"\w[\w'-]*", re.sub(r"\]\([^)]*\)", "]", sentence).lower())
            if len(words) >= 8:
                yield " ".join(words)


def test_sentences_are_cut_as_meant():
    text = (
        "# A title\nOne two three four\nfive six seven eight. Too short.\n\n```\na b c d e f g h i j\n```\n"
        "- **Bold** [link of](one.md) three four five six seven eight"
    )
    assert list(sentences(text)) == [
        "one two three four five six seven eight",
        "bold link of three four five six seven eight",
    ]


def test_no_sentence_stands_in_two_workbooks():
    places = defaultdict(set)
    for path in workbooks():
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "markdown":
                for sentence in sentences(source_of(cell)):
                    places[sentence].add(name_of(path))
    twice = {sentence: sorted(names) for sentence, names in places.items() if len(names) > 1}
    assert not twice, twice


def test_the_supply_is_asked_for_plug_case_and_plate_before_anything_is_measured():
    """What can kill comes first, then volts, watts, hours, protection; what few need is folded and comes after them."""
    cells = json.loads((ROOT / "notebooks" / "01_supply.ipynb").read_text(encoding="utf-8"))["cells"]
    heads = [
        line for c in cells if c["cell_type"] == "markdown" for line in source_of(c).split("\n") if line[:3] == "## "
    ]
    order = ["Before the meter", "Volts", "Watts", "Hours", "Protection", "For a few supplies only", "On the bench"]
    found = [next(i for i, head in enumerate(heads) if head[3:].startswith(word)) for word in order]
    assert found == sorted(found)
    folded = [c for c in cells if c["metadata"].get("jp-MarkdownHeadingCollapsed")]
    assert [source_of(c).split("\n")[0] for c in folded] == ["## For a few supplies only"]


def test_the_panel_stands_at_the_top_and_the_way_on_at_both_ends(page):
    """Question, one sentence, panel; then its numbers, what to mend first, and only then what the page needs.

    On the start page what to mend first stands inside the form, where it follows what is typed: its text comes right
    after the form, and the numbers after that.
    """
    path, notebook = page
    if in_class(path):
        pytest.skip("a page of the class asks first")
    cells = notebook["cells"]
    title, first, live, numbers, mend, mended = cells[:6]
    if path.name.startswith("10"):  # the card itself stands first there; it is no panel
        assert "shown_card(" in source_of(cells[3])
    elif path.name.startswith("00"):
        _, _, live, mended, numbers = cells[:5]
        assert "sheet_form(build, workings, found)" in source_of(live), where(live)
        assert "To mend first" in "".join(t for o in live["outputs"] for _, t in texts_of(o)), where(live)
        assert "mend_words(build, found" in source_of(mended) and "workings" in source_of(numbers), where(mended)
    else:
        assert LIVE.search(source_of(live)) and "nbval-ignore-output" in tags_of(live), where(live)
        assert "nbval-ignore-output" not in tags_of(numbers) and "workings" in source_of(numbers), where(numbers)
        assert "mend_panel(" in source_of(mend) and "mend_words(" in source_of(mended), where(mend)
    assert len(source_of(title).split("\n\n")) == 3, "the title cell holds the question, a sentence, a line of jumps"
    ways = [cell for cell in code_cells(notebook) if f'way("{path.name[:2]}")' in source_of(cell)]
    assert ways[0] is first and len(ways) == 2 and ways[1] in cells[-4:]
    links = re.findall(r"\]\((\d\d_\w+\.ipynb)\)", " ".join(t for o in ways[1]["outputs"] for _, t in texts_of(o)))
    names = [p.name for p in workbooks() if p.parent == path.parent]
    at = names.index(path.name)
    assert set(links) == set(names[max(at - 1, 0) : at] + names[at + 1 : at + 2] + names[:1]) - {path.name}
