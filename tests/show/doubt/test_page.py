"""The page on doubt: list, ladder and form on every demo, on sheets with nothing to rank, and their words."""

import pytest

import benchcalc as bc
from benchcalc.show.doubt.figure import LADDER, reading_ladder
from benchcalc.show.doubt.form import doubt_form
from benchcalc.show.doubt.tables import HELPS, LITTLE, after_reading, first_line, limit_chances, ranked
from benchcalc.show.drawing.live_picture import picture
from benchcalc.studies.doubt.ranked import measure_first

EMPTY = '[sheet]\nname = "empty"\n'


@pytest.mark.parametrize("name", ["insert_press", "wax_pot", "foam_bow", EMPTY])
def test_list_ladder_and_form_on_every_sheet(name):
    build = bc.read(name) if name is EMPTY else bc.load_chosen(name)
    workings = bc.work_out(build)
    found = measure_first(build, workings)
    told = ranked(build, found)
    assert len(told.rows) == max(1, min(8, len(found.readings)))
    if found.readings:
        first = found.readings[0]
        turns = not found.doubts or first.firms >= LITTLE
        assert told.rows[0][0] == first.words
        assert (first.words in first_line(build, found).text) == turns
    assert len(limit_chances(build, workings).rows) >= 1
    form = doubt_form(build, found)
    for d in found.doubts:
        form.show(d.what)
        assert "data:image/png" in form.view.value and d.what in reading_ladder(build, found, d.what).frame[0]
        assert d.key not in ("years", "wood_years") or reading_ladder(build, found, d.what).frame[1] == "years"
        rows = after_reading(build, found, d.what).rows
        if rows[1][0].startswith("no reading"):  # all is left by each of them
            assert all(r.verdicts[found.doubts.index(d)][1] >= HELPS for r in found.readings) and len(rows) == 2
            continue
        shares = [float(row[2].rstrip("%")) for row in rows[1:]]
        assert shares == sorted(shares) and all(s < 100 * HELPS + 1 for s in shares)
    assert picture(LADDER, build, (found, None)).png[:4] == b"\x89PNG"
    if name == "insert_press":
        numbers = reading_ladder(build, found)
        assert "In a hurry" in first_line(build, found).text
        assert numbers.rows[0][1] == pytest.approx(found.doubts[0].low)  # kelvins are shown as they are
        assert numbers.rows[1][2] - numbers.rows[1][1] < numbers.rows[0][2] - numbers.rows[0][1]
