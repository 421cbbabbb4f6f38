"""The picture of the shrinking band and the tables beside it: numbers from the calibration, on every demo."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.show.calibrate.figure import BAND, shrinking_band
from benchcalc.show.calibrate.panel import calibrate_panel
from benchcalc.show.calibrate.tables import learned_table, next_table, predictions, readings_table, sentences, target_of
from benchcalc.show.drawing.live_picture import picture, still
from benchcalc.show.panel.progress_bar import progress_bar
from benchcalc.show.panel.sliders import results_at, settings
from benchcalc.studies.calibrate.calibrate import calibrate
from benchcalc.studies.calibrate.practice_readings import practice_probes
from benchcalc.studies.calibrate.trial_tool import PLACES, settled_temps


@pytest.fixture(scope="module", params=["insert_press", "wax_pot"])
def done(request):
    build = bc.load_chosen(request.param)
    probes, hidden = practice_probes(build)
    return request.param, build, calibrate(build, probes, run_count=8, progress=progress_bar()), hidden


def test_the_band_shrinks_on_the_picture(done):
    name, build, found, hidden = done
    n = shrinking_band(found)
    assert n.place == target_of(found) == ("work" if name == "wax_pot" else "entry")
    assert np.ptp(n.after_c[[0, 2], -1]) < 0.8 * np.ptp(n.before_c[[0, 2], -1])
    assert [log.name for log in n.logs] == [p.name for p in found.trial.probes]
    column = PLACES.index(n.place)
    exact = settled_temps(found.trial, hidden[None])[0, column]
    low, high = np.percentile(found.settled_after_c[:, column], [2.5, 97.5])
    assert low < exact < high
    still = picture(BAND, build, found)
    assert still.png[:4] == b"\x89PNG" and "before the readings" in still.caption
    assert f"{n.after_c[0, -1]:.0f} degC" in still.caption


def test_tables_and_sentences_speak_of_what_was_fitted(done):
    name, _, found, _ = done
    words = [row[0] for row in predictions(found).rows]
    assert words == (["wire", "work"] if name == "wax_pot" else ["tip", "wire", "handle entry"])
    assert len(learned_table(found).rows) == len(found.fitted) + len(found.trial.probes)
    assert sentences(found).text.startswith("- The corrected model follows the readings")
    shares = [float(row[1].split()[0]) for row in next_table(found).rows]
    assert shares == sorted(shares) and 0 < shares[0] < 100


def test_inches_and_fahrenheit_reach_the_words():
    from dataclasses import replace

    build = replace(bc.load_chosen("wax_pot"), units="inch", degrees="F")
    found = calibrate(build, practice_probes(build)[0], run_count=2)
    assert "degF" in str(predictions(found)) and " in from the tip" in str(next_table(found))
    assert "W" in str(learned_table(found))
    assert "degF" in picture(BAND, build, found).caption


def test_the_sensors_are_listed(done):
    _, build, found, _ = done
    listed = readings_table(build, found.trial.probes).rows
    assert [row[2] for row in listed] == ["peened or embedded", "pressed bead"] and all(
        int(row[3]) <= 40 for row in listed
    )


def test_the_lid_shows_the_hidden_truth(done):
    from benchcalc.show.calibrate.tables import lid

    _, _, found, hidden = done
    exact = settled_temps(found.trial, hidden[None])[0]
    assert [row[1] for row in lid(found, hidden).rows] == [f"{t:.0f} degC" for t in exact if np.isfinite(t)]


@pytest.fixture(scope="module")
def box():
    build = bc.load_chosen("insert_press")
    return calibrate_panel(build, practice_probes(build)[0], run_count=4)


def test_a_new_place_is_shown_at_once_and_says_whose_its_lines_are(box):
    whole = results_at(box.spec, {}, rest=False)
    assert whole.numbers.by == "" and not any(log.unused_s.size for log in whole.numbers.logs)
    for words, moved in settings(box.spec):
        at = results_at(box.spec, moved, rest=False)
        assert len(at.rows) == 3 and at.numbers.frame == whole.numbers.frame, words
        for log, every in zip(at.numbers.logs, whole.numbers.logs):
            assert [*log.time_s, *log.unused_s] == [*every.time_s], words
            assert log.time_s.max() <= moved.get("at_s", 2400) + 1e-6 and log.line_s is every.line_s
        if at.build.at_s < 2400:
            assert at.numbers.by == "all of them" and {value for _, value in at.rows} == {"–"}
            assert "being worked out" in at.caption and "after all of them" in at.caption
            assert f"{sum(log.unused_s.size for log in at.numbers.logs)} later readings" in at.caption
            assert len(still(box.spec.draw, at.numbers)) > 10_000
            assert box.spec.tells.known(at.build) is None


def test_the_panel_uses_fewer_readings_and_the_band_grows(box):
    wide = {}  # of the tip: the entry hangs on how wood and tube touch, which ten minutes tell as well as forty
    for seconds in (600.0, 2400.0):
        at = results_at(box.spec, {"at_s": seconds}, rest=True)
        assert at.numbers.by == "" and at.extra is box.spec.tells.known(at.build)
        assert max(log.time_s.max() for log in at.numbers.logs) <= seconds
        low, high = (float(x) for x in at.rows[0][1].split("(")[1].rstrip(")").split(" to "))
        wide[seconds] = high - low
    assert wide[600.0] > 1.1 * wide[2400.0]
    early = results_at(box.spec, {"at_s": 600.0}).numbers.logs[0]
    assert early.line_s.size == early.time_s.size + early.unused_s.size  # the line goes on where it was told nothing
    assert results_at(box.spec, {"at_s": 900.0}, rest=False).numbers.by == "those of the first 10.0 min"
    text = box.kept()[0]["text/plain"]
    assert "readings used" in text and box.found.at_rest
