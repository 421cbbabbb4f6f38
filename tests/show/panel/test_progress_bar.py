"""The bar of a long calculation: at once or after a while, and gone when it is done."""

import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

import benchcalc as bc
from benchcalc.show.panel import mending, progress_bar
from benchcalc.show.panel.mending import found_to_mend
from benchcalc.show.panel.progress_bar import late_bar
from benchcalc.studies.mend_first import mend_first


@pytest.fixture
def shown(monkeypatch):
    found = []
    monkeypatch.setattr(progress_bar, "display", found.append)
    return found


def test_a_late_bar_comes_with_the_first_slice_after_its_time(shown, monkeypatch):
    seconds = iter((0.0, 0.1, 0.5))
    monkeypatch.setattr(progress_bar.time, "monotonic", lambda: next(seconds))
    moved = late_bar("counting", after_s=0.4)
    moved(0, 4, "one of four")
    assert not shown
    moved(1, 4, "two of four")
    (bar,) = shown
    assert (bar.value, bar.max, bar.description) == (1, 4, "counting: two of four")
    assert "text/plain" not in bar._repr_mimebundle_()  # a saved page is the same however long it took
    moved(4, 4, "done")
    assert bar.comm is None  # closed


def test_what_a_late_bar_leaves_in_a_saved_page_has_no_words():
    """IPython's own display, which adds words to whatever has none."""
    InteractiveShell.instance()
    try:
        moved = late_bar("counting", after_s=0.0)
        with capture_output() as shown:
            moved(1, 4, "two of four")
        moved(4, 4, "done")
    finally:
        InteractiveShell.clear_instance()
    (left,) = shown.outputs
    assert list(left.data) == ["application/vnd.jupyter.widget-view+json"]


def test_a_late_bar_of_short_work_never_comes(shown):
    moved = late_bar("counting", after_s=1e9)
    for done in range(5):
        moved(done, 4, "")
    assert not shown


def test_trying_cures_shows_how_far_it_is(shown, monkeypatch):
    monkeypatch.setattr(mending, "late_bar", lambda words: late_bar(words, after_s=0.0))
    told, real = [], progress_bar.tell
    monkeypatch.setattr(progress_bar, "tell", lambda bar, *what: told.append(what) or real(bar, *what))
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build)
    found = found_to_mend(build, workings, ("heat", "handle"))
    (bar,) = shown
    assert bar.comm is None and len(found.first) >= 2
    done = [d for d, *_ in told]
    assert done == sorted(done) and set(done) <= set(range(len(found.first) + 1)) and done[-1] == len(found.first)
    assert all(of == len(found.first) and words.startswith("trying cures: ") for _, of, words in told)
    assert found == mend_first(build, workings, ("heat", "handle"))


def test_nothing_to_try_shows_nothing(shown, monkeypatch):
    monkeypatch.setattr(mending, "late_bar", lambda words: late_bar(words, after_s=0.0))
    build = bc.load_chosen("insert_press")
    assert not found_to_mend(build, bc.work_out(build), ("insulation",)).first and not shown
