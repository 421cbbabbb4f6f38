"""What readings taught is kept in the sheet with its bands and how they go together, used, and dropped in one step."""

from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.workings import chain
from benchcalc.sheet.borrowed import borrowed, without_borrowed
from benchcalc.sheet.build_learned import Learned
from benchcalc.sheet.keep_rows import keep_learned
from benchcalc.sheet.learned import learned_words, of_that_day, without_learned
from benchcalc.sheet.teachable import MAINS, name_of, said_of, teachable
from benchcalc.show.page.lesson import introduce
from benchcalc.studies.card.supply_rows import supply_today

AIR, SKIN, JOINT = "room.air_speed_m_s", "part.tube.emissivity", "joint.0.contact_scale"


@pytest.fixture
def mine(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    return bc.copy_to_mine("insert_press", "own")


def entries_of(build, log="evening.csv", *, goes=-0.9):
    def one(path, value, low, high, goes_with=None, that_day=False):
        return Learned(name_of(build, path), log, said_of(build, path), value, low, high, that_day, goes_with)

    return (
        one(MAINS, 0.95, 0.93, 0.97, that_day=True),
        one(AIR, 0.1, 0.05, 0.2, "0.3"),
        one(SKIN, 0.3, 0.2, 0.4, f"0 {goes}"),
        one(JOINT, 1.2, 0.8, 1.8, "0 0 0"),
    )


def test_kept_used_and_dropped_in_one_step(mine):
    before, build = mine.read_text("utf-8"), bc.load(mine)
    kept = keep_learned(mine, entries_of(build))
    assert mine.read_text("utf-8").startswith(before.rstrip("\n"))
    assert [e.path for e in kept.learned] == ["", AIR, SKIN, JOINT]
    known = kept.known[SKIN]
    assert (known.how, known.low, known.high, known.text) == ("learned", 0.2, 0.4, "learned from evening.csv")
    assert bc.get(kept, AIR) == 0.1 and kept.known[MAINS] == build.known[MAINS]  # the day's mains stay apart
    day = of_that_day(kept)
    assert (day.supply.mains, day.known[MAINS].low) == (0.95, 0.93)
    assert without_learned(day).known == build.known and without_learned(kept).part == build.part
    assert "Learned from evening.csv: 3 inputs of the tool" in introduce(kept).text
    assert "emissivity, tube 0.3" in introduce(kept).text
    assert "95% (93% to 97%)" in supply_today(kept, bc.work_out(kept, samples=0)).rows[0].words
    dropped = keep_learned(mine, ())
    assert mine.read_text("utf-8") == before.rstrip("\n") + "\n" and not dropped.learned
    alone = replace(entries_of(build)[1], goes_with=None)
    assert keep_learned(mine, (alone,)).learned[0].path == AIR  # and kept anew, without the others


def test_samples_go_together_as_learned_and_keep_their_ends(mine):
    build = bc.load(mine)
    kept = keep_learned(mine, entries_of(build))
    drawn = bc.sample(kept, 400)
    place = [np.log(bc.get(drawn, AIR)), bc.get(drawn, SKIN), np.log(bc.get(drawn, JOINT))]
    goes = np.corrcoef(place)
    assert goes[0, 1] == pytest.approx(-0.9, abs=0.06) and abs(goes[0, 2]) < 0.12
    assert 0.2 <= place[1].min() < 0.202 and 0.398 < place[1].max() <= 0.4
    spread = {}
    for goes in (-0.9, 0.9):  # both shed heat: where one makes up for the other, the tip is surer
        kept = keep_learned(mine, entries_of(build, goes=goes))
        alone = replace(kept, known=MappingProxyType({p: kept.known[p] for p in (AIR, SKIN)}))
        _, _, _, heat, _ = chain(bc.sample(alone, 60))
        spread[goes] = np.ptp(heat.entry_c)
    assert spread[-0.9] < 0.6 * spread[0.9], spread


def test_what_was_learned_of_something_else_is_not_used_and_says_so(mine):
    build = bc.load(mine)
    keep_learned(mine, entries_of(build))
    text = mine.read_text("utf-8")
    made = build.joint[0].made
    other = bc.read(text.replace(f'made = "{made}"', 'made = "pressed, fresh"', 1))
    assert other.known[JOINT].how == "assumed" and f"learned of {made}" in learned_words(other)
    assert "no input emissivity, pipe" in learned_words(bc.read(text.replace("emissivity, tube", "emissivity, pipe")))
    assert "can only be 0.02 to 1" in learned_words(bc.read(text.replace("high = 0.4", "high = 4.0")))
    changed = bc.change(bc.load(mine), "joint.0.made", "pressed, fresh")
    assert changed.known[JOINT].how == "assumed" and changed.known[SKIN].how == "learned"
    free = bc.change(bc.load(mine), SKIN, 0.5)
    assert without_learned(free).part[-1] == free.part[-1] and bc.get(without_learned(free), SKIN) == 0.5


@pytest.mark.parametrize(
    "old, new, said",
    [
        ("low = 0.2", "low = 0.35", "between low and high"),
        ('goes_with = "0 -0.9"', 'goes_with = "0"', "has 1 numbers, and 2 stand above it"),
        ('goes_with = "0 -0.9"', 'goes_with = "0 much"', "plain numbers"),
        ('goes_with = "0 -0.9"', 'goes_with = "0 -1.9"', "within -1 to 1"),
        ('goes_with = "0 0 0"', 'goes_with = "0 0.95 0.95"', "cannot all be true"),
        ('input = "emissivity, tube"', 'input = "air speed"', "stands twice"),
        ("value = 0.3\n", "", "is missing: page 06 writes it"),
    ],
)
def test_lines_that_cannot_be_are_told(mine, old, new, said):
    keep_learned(mine, entries_of(bc.load(mine)))
    text = mine.read_text("utf-8")
    assert old in text
    with pytest.raises(bc.Fault, match=said):
        bc.read(text.replace(old, new))


def test_learned_by_the_log_of_a_demo_is_borrowed(mine):
    build = bc.load(mine)
    lent, own = (keep_learned(mine, entries_of(build, log)) for log in (build.log[0].file, "evening.csv"))
    assert borrowed(lent)["what was learned"] == [AIR, SKIN, JOINT] and "what was learned" not in borrowed(own)
    assert not without_borrowed(lent).learned and len(without_borrowed(own).learned) == 4
    assert "what was learned" in introduce(lent).text
    heat = [v for link, v in bc.work_out(lent, samples=0).verdicts if link == "heat"]
    assert any(v.note and v.state == "not known" for v in heat) and not any(v.state == "fine" for v in heat)


def test_names_tell_all_inputs_apart(mine):
    for demo in bc.demos():
        build = bc.load_chosen(demo)
        names = [name_of(build, p) for p in teachable(build)]
        assert len(set(names)) == len(names) and (JOINT in teachable(build)) == (demo != "foam_bow")
    text = Path(mine).read_text("utf-8")
    twice = bc.read(text + '\n[[layer]]\nbetween = ["coil", "tube"]\nmaterial = "mica"\nthickness = "0.1 mm"\n')
    names = [name_of(twice, p) for p in teachable(twice)]
    assert len(set(names)) == len(names) and "layer coil - tube, 2" in names
