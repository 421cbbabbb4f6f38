"""Many tools of a calibration at once: as they are one by one, or off by no more than is said."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.slices import finished
from benchcalc.studies.calibrate import trial_tool
from benchcalc.studies.calibrate.calibrate import calibrate
from benchcalc.studies.calibrate.hour_band import hour_band
from benchcalc.studies.calibrate.many_trials import AT_ONCE, middle_of
from benchcalc.studies.calibrate.practice_readings import practice_probes
from benchcalc.studies.calibrate.start import trial_of
from benchcalc.studies.calibrate.trial_tool import each_hour, each_readings, hour, settled_temps, true_readings
from benchcalc.thermal.network.many_in_time import step_ends

TIMES = np.linspace(0, 3600, 61)
FEW = 12


@pytest.fixture(scope="module", params=["insert_press", "wax_pot"])
def tools(request):
    """A trial, and places of tools about its middle."""
    build = bc.load_chosen(request.param)
    trial = trial_of(build, practice_probes(build)[0])
    return trial, np.random.default_rng(2).uniform(-1, 1, (FEW, len(trial.unknowns)))


@pytest.fixture
def built(monkeypatch):
    """How many networks are built, counted."""
    found = []

    def counted(tool):
        found.append(tool)
        return model_of(tool)

    model_of = trial_tool.model_of
    monkeypatch.setattr(trial_tool, "model_of", counted)
    return found


def test_readings_of_networks_built_side_by_side_are_those_of_each_alone(tools, built):
    trial, places = tools
    many = list(each_readings(trial, places[:4]))
    assert len(built) == 1
    for read_c, place in zip(many, places[:4]):
        assert np.abs(read_c - true_readings(trial, place)).max() < 0.15  # lengths that differ make another mesh


def test_of_one_mesh_they_are_the_same(tools):
    trial, _ = tools
    places = np.zeros((3, len(trial.unknowns)))
    places[:, 0], places[:, 1] = (-0.5, 0.0, 0.5), (0.3, 0.0, -0.3)  # the watts, and the heat stored
    assert [u.path for u in trial.unknowns[:2]] == ["coil power", "heat stored"]
    for read_c, place in zip(each_readings(trial, places), places):
        assert read_c == pytest.approx(true_readings(trial, place), abs=1e-6)


def ends_of(values_c):
    """Ends and middle of the 90 % band of tools (designs, ...)."""
    return np.percentile(values_c, [5, 50, 95], axis=0)


def test_bands_about_the_middle_are_those_of_the_fine_mesh(tools):
    """Ends of the 90 % bands of a dozen tools, as shares of the widest; what melts is run on the fine mesh."""
    trial, places = tools
    middle = middle_of(trial)
    melts = bool(middle.near.model.net.contents)
    assert melts == (trial.build.name == "Wax pot")
    hours_c, fine_c = finished(middle.hours(places, TIMES)), finished(each_hour(trial, places, TIMES))
    assert np.array_equal(hours_c, fine_c, equal_nan=True) == melts
    for near, fine in ((hours_c, fine_c), (finished(middle.settled(places)), settled_temps(trial, places))):
        for place in np.flatnonzero(np.isfinite(fine).all(axis=tuple(range(fine.ndim - 1)))):
            ends, wanted = ends_of(near[..., place]), ends_of(fine[..., place])
            assert ends == pytest.approx(wanted, abs=0.015 * (wanted[2] - wanted[0]).max()), place


def test_the_band_of_few_hours_is_brought_to_that_of_all_draws():
    """Two dozen hours of the press, time and again, against the percentiles of all: their own miss by far more."""
    build = bc.load_chosen("insert_press")
    found = calibrate(build, practice_probes(build)[0][:1], run_count=192)
    wanted = np.percentile(found.hour_after_c[:, :, 2], [5, 50, 95], axis=0)
    wide, off = (wanted[2] - wanted[0]).max(), []
    for first in range(0, 192, 24):
        few = slice(first, first + 24)
        order = np.r_[np.arange(400)[few], np.delete(np.arange(400), few)]
        part = replace(found, hour_after_c=found.hour_after_c[few], settled_after_c=found.settled_after_c[order])
        band, alone = hour_band(part, "entry"), np.percentile(found.hour_after_c[few, :, 2], [5, 50, 95], axis=0)
        off.append([np.abs(x - wanted).max() / wide for x in (band, alone)])
        assert (np.diff(band, axis=0) > 0).all()
        settled = np.percentile(found.settled_after_c[:, 2], [5, 50, 95])
        assert band[:, -1] == pytest.approx(settled, abs=0.5)  # as the table beside the picture says it
    (ours, alone), worst = np.mean(off, axis=0), np.max(off, axis=0)
    assert ours < 0.08 and worst[0] < 0.15 and alone > 1.5 * ours, off


def test_work_pauses_between_slices(tools):
    trial, places = tools
    middle = middle_of(trial)
    assert len(list(middle.settled(np.repeat(places, 20, axis=0)))) >= 2 * -(-20 * FEW // AT_ONCE)
    pauses = len(list(middle.hours(places[:3], TIMES)))
    assert pauses == (3 if middle.near.model.net.contents else step_ends(TIMES[-1]).size)


def test_the_middle_one_comes_out_as_it_is(tools):
    trial, places = tools
    middle, zero = middle_of(trial), np.zeros((1, places.shape[1]))
    alone = hour(trial, zero[0], TIMES)
    assert finished(middle.hours(zero, TIMES))[0] == pytest.approx(alone, abs=1e-6, nan_ok=True)
    assert finished(middle.settled(zero)) == pytest.approx(settled_temps(trial, zero), abs=0.02, nan_ok=True)
