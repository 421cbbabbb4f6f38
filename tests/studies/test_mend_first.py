"""What to mend first: the order is by harm, and each cure, typed into a sheet, does cure."""

import re
from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.tables import rows
from benchcalc.chain.heat.left_on import left_on
from benchcalc.chain.verdict import Verdict
from benchcalc.chain.wire.coil import coil_span
from benchcalc.sheet.change import change
from benchcalc.show.heat.panel import heat_panel
from benchcalc.show.panel.designs import difference
from benchcalc.show.panel.mending import TRIED, cure_lines, mend_panel, mend_words, stands_line, told_advice
from benchcalc.studies.cures import NOTHING, WANTED, Cure, and_layer, cures_of, own_cures
from benchcalc.studies.first_sheet import job_shape
from benchcalc.studies.from_job import from_job
from benchcalc.studies.harm import harm_of, shown_first
from benchcalc.studies.holding import holding
from benchcalc.studies.mend_first import Mend, ToMend, _hotter_still, mend_first, past_by, to_look_at
from benchcalc.studies.own_cut_out import LEFT_ALONE, cut_out_words
from benchcalc.studies.stopping import cut_out_advice


@pytest.fixture(scope="module")
def press():
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build, samples=60)
    return build, workings, mend_first(build, workings)


def test_the_gravest_and_the_furthest_past_its_limit_come_first_and_advice_stands_apart(press):
    _, workings, found = press
    over = [m.verdict for m in found.first if m.verdict.state == "over"]
    assert 2 <= len(over) <= len(found.first) <= 5 and not any(v.advice for v in over)
    ranks = [(harm_of(v)[0], -past_by(v)) for v in over]
    assert ranks == sorted(ranks) and harm_of(over[0])[1] == "fire"
    assert all(v.advice for v in found.advice)
    open_ones = [v for _, v in workings.verdicts if v.state in ("over", "tight", "not known")]
    assert len(found.first) + found.more + len(found.advice) == len(open_ones)


def test_what_is_not_known_never_stands_above_a_fire_that_is_known(press):
    _, workings, _ = press
    some = next(v for _, v in workings.verdicts)
    told = [("volts between core and coil", "not known"), ("insulation on the tails", "not known"),
            ("fit of x", "over"), ("left on and forgotten", "over"), ("power stuck on", "tight"), ("fuse", "not known"),
            ("no-load voltage", "over")]  # fmt: skip
    made = tuple(("heat", replace(some, what=what, state=state, advice=False, note="")) for what, state in told)
    limits, _, _ = to_look_at(replace(workings, verdicts=made))
    assert [v.what for _, v in limits] == [
        "no-load voltage", "left on and forgotten", "volts between core and coil", "insulation on the tails",
        "fit of x", "fuse", "power stuck on",
    ]  # fmt: skip


def test_a_tip_that_stays_too_cold_is_offered_a_coil_of_less_wire_that_reaches_it(press):
    build = change(press[0], "want.tip_c", press[1].heat.tip_c + 20.0)
    workings = bc.work_out(build, samples=60)
    (mend,) = (m for m in mend_first(build, workings, ("heat",)).first if m.verdict.what == WANTED)
    assert mend.verdict.state == "over" and mend.after.state in ("tight", "fine")
    assert "of the watts, by less wire in the coil" in mend.cure.words
    mended = mend.cure.on(build)
    assert mended.coil.length_m < build.coil.length_m
    assert bc.work_out(mended, samples=0).heat.tip_c == pytest.approx(mend.tip_c, abs=0.1)
    assert mend.tip_c > build.want.tip_c


def test_a_fire_that_is_not_fine_is_always_shown_whatever_else_is_to_mend(press):
    """Five shocks and shorts stand above; the two fires stand below them, and only what burns nothing is left out."""
    _, workings, _ = press
    some = next(v for _, v in workings.verdicts)
    told = [*((f"volts between {k}", "over") for k in range(4)), ("insulation under x", "not known"),
            ("fit of x", "over"), ("power stuck on", "tight"), ("left on and forgotten", "tight"),
            ("fuse", "not known"), ("set point within reach", "tight")]  # fmt: skip
    made = tuple(("heat", replace(some, what=what, state=state, advice=False, note="")) for what, state in told)
    limits, _, _ = to_look_at(replace(workings, verdicts=made))
    shown = [v.what for _, v in shown_first(limits, 5)]
    assert shown[5:] == ["fuse", "power stuck on", "left on and forgotten"] and len(limits) - len(shown) == 2


def test_a_tight_fire_keeps_its_cut_out_where_much_else_is_not_known():
    """A press whose supply and joint to the cable nobody has told, its wood near its limit when it is left on."""
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build, samples=60)
    states = dict.fromkeys(("supply", "leads", "bench"), "not known")
    near = [
        (link, replace(v, state="tight" if v.what in LEFT_ALONE else states.get(link, v.state)))
        for link, v in workings.verdicts
    ]
    found = mend_first(build, replace(workings, verdicts=tuple(near)), most=2)
    alone = [m for m in found.first if m.verdict.what in LEFT_ALONE]
    assert alone and all("cut-out" in m.guard for m in alone)


def test_each_cure_written_into_a_sheet_makes_its_verdict_fine(press, monkeypatch, tmp_path):
    """The whole road of a maker: keep the change in a sheet of one's own, read it again, work it out anew."""
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    build, workings, found = press
    was = {(link, v.what) for link, v in workings.verdicts if v.state == "over"}
    cured = [m for m in found.first if m.cured]
    assert len(cured) >= 2
    for i, mend in enumerate(cured):
        path = bc.copy_to_mine("insert_press", f"cured_{i}")
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace('begun_from = "insert_press"', ""), encoding="utf-8")
        out = bc.work_out(bc.keep(path, dict(mend.cure.moves), build), samples=60)
        own = [v for link, v in out.verdicts if link == mend.link]
        after = next(v for v in own if v.what == mend.after.what)  # of another layer the words are its own
        assert after.state == "fine", mend.cure.words
        assert mend.after.value == pytest.approx(after.value, abs=1.5)
        assert not [
            v.what for link, v in out.verdicts if v.state == "over" and not v.advice and (link, v.what) not in was
        ]


@pytest.mark.parametrize("demo", [pytest.param("foil_iron", marks=pytest.mark.slow), "wax_pot", "foam_bow"])
def test_other_tools_get_lines_too_and_no_cure_is_called_one_that_is_none(demo):
    build = bc.load_chosen(demo)
    workings = bc.work_out(build, samples=40)
    found = mend_first(build, workings)
    for mend in found.first:
        if mend.cure is not None:
            again = bc.work_out(mend.cure.on(build), samples=0)
            same = [v for name, v in again.verdicts if name == mend.link and v.key == mend.verdict.key]
            assert any(v.value == pytest.approx(mend.after.value, rel=1e-6) for v in same)
            assert mend.cured == (mend.after.state == "fine")
    text = mend_words(build, found, [v for _, v in workings.verdicts]).text
    assert all(m.verdict.what in text for m in found.first) and "<details>" in text


def test_what_is_only_assumed_is_counted_not_listed_and_its_cure_is_tried_as_if_measured():
    """A first sheet of a job, every value marked assumed: its tip reaches what is wanted and nothing is over; with its
    handle 40 mm nearer to the coil, what is over has its cure."""
    first = from_job(job_shape("rod in a tube with a handle"), 8e-3, wanted_c=300.0).build
    workings = bc.work_out(first, samples=0)
    assert workings.heat.tip_c >= 300.0 and all(v.state != "over" for _, v in workings.verdicts if not v.advice)
    build = bc.change(first, "part.handle.from_m", bc.get(first, "part.handle.from_m") - 0.04)
    workings = bc.work_out(build, samples=0)
    found = mend_first(build, workings, most=3)
    assert found.resting > 5 and [m.verdict.state for m in found.first] == ["over", "over", "not known"]
    assert {harm_of(m.verdict)[1] for m in found.first[:2]} == {"fire"}  # what is known to burn stands first
    assert found.first[2].verdict.what == "insulation on the tails"  # then a short that nobody rules out
    assert any(m.cured for m in found.first)
    told = " ".join(words for words, _ in cure_lines(build, found)) + told_advice(found)
    assert "if what is assumed or borrowed holds" in told and "limits rest on what the sheet only assumes" in told


def test_turns_too_near_to_each_other_are_spread_where_their_part_leaves_room(press):
    """By hand: with as many turns, the pitch grows as the room does."""
    build, _, _ = press
    ends = {"coil.from_m": 0.040, "coil.to_m": 0.072}
    tight = bc.change(build, "coil.pitch_m", None)
    for path, x in ends.items():
        tight = bc.change(tight, path, x)
    own = bc.work_out(tight, samples=0)
    verdict = next(v for _, v in own.verdicts if v.what == "gap between turns")
    part = next(p for p in build.part if p.id == build.coil.on)
    half, whole = (c for c in own_cures(tight, own, verdict) if "spread out" in c.words)
    for cure in (half, whole):
        on = cure.on(tight)
        assert part.from_m <= on.coil.from_m < 0.040 and 0.072 < on.coil.to_m <= part.to_m
        wider = bc.work_out(on, samples=0).coil
        grown = (on.coil.to_m - on.coil.from_m) - (0.072 - 0.040)
        assert (wider.pitch_m - own.coil.pitch_m) * wider.turns == pytest.approx(grown, rel=0.1)


def test_the_button_tries_the_cure_in_the_panel_and_back_takes_it_off(press):
    build, workings, found = press
    live = heat_panel(build)
    before, start = live.good.rows, live.view.value
    box = mend_panel(build, found, live)
    moves = next(m for m in found.first if m.cure is not None).cure.moves
    box.buttons[0].click()
    assert live.good.rows != before and "Tried" in live.told.value
    assert any(TRIED in getattr(row, "value", "") for row in box.children)  # told where the button is, too
    assert {path for path, _ in moves} <= set(live.moved()) | {"want.power_w"}
    live.hold("A")
    live.reset()
    live.hold("B")
    assert live.view.value == start and live.moved() == {} and "B less A" in live.beside.value
    assert "To mend first" in box.kept()[0]["text/html"]


def test_against_what_nobody_watches_a_cut_out_comes_first_and_no_posture_is_a_cure(press):
    """The link that is named stays shut where the tool settles in use, ten kelvin below its mark counted (IEC 60691),
    and does open on the day of a tool left on; where use itself passes the limit, none is named."""
    build, workings, found = press
    alone = [m for m in found.first if m.verdict.what in LEFT_ALONE]
    assert alone and all(m.guard and not (m.cure and m.cure.is_posture) for m in alone)
    assert cure_lines(build, found)[0] == (f"1: {alone[0].guard}", None) and "use itself passes" in alone[0].guard
    assert "cut-out can spare" in mend_words(build, found).text
    held = bc.read(bc.chosen("insert_press").read_text(encoding="utf-8") + '\n[control]\nset = "120 degC"\n')
    held = bc.change(held, "part.tube.material", "stainless-304")
    told = bc.work_out(held, samples=60)
    place = next(v.place for v in told.of("heat") if v.what == "left on and forgotten")
    words = cut_out_words(held, told, place)
    mark_c, at_mm = (float(re.search(end, words)[1]) for end in (r"marked (\d+) degC", r", ([\d.]+) mm from the tip"))
    settled = (told.heat.model, told.control.normal_c), (left_on(held).heat.model, left_on(held).heat.temps_c)
    use_c, left_c = (np.interp(at_mm / 1e3, *model.along("tube", temps_c)) for model, temps_c in settled)
    assert use_c < mark_c - 10 and left_c > mark_c and place in words


@pytest.mark.parametrize("length_m, late", [(0.733, False), (0.45, True)])
def test_the_cut_out_of_every_page_is_the_one_of_the_control_page_and_names_what_it_is_too_late_for(length_m, late):
    """By a coil of so many watts that the sleeve on it is gone before any link opens."""
    text = bc.chosen("insert_press").read_text(encoding="utf-8") + '\n[control]\nset = "120 degC"\n'
    build = bc.change(bc.read(text), "part.tube.material", "stainless-304")
    build = bc.change(build, "coil.length_m", length_m)
    workings, told = bc.work_out(build), cut_out_advice(build, holding(build))
    words = cut_out_words(build, workings, told.guards)
    assert f"marked {bc.say('temp_c', told.best.rating_c)} " in words
    assert f"before {told.guards} may be past" in words and bool(told.late) == late
    assert ("None is quick enough for" in words) == late and all(place in words for place in told.late)
    assert told.saved and f"and spares {', '.join(told.saved)} too" in words


def test_a_cut_out_of_the_sheet_that_does_not_serve_is_told_beside_one_that_does():
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    text += '\n[control]\nset = "120 degC"\ncut_out = "RATING"\ncut_out_at = "40 mm"\n'
    wrong, right = (bc.change(bc.read(text.replace("RATING", c)), "part.tube.material", "stainless-304")
                    for c in ("150 degC", "240 degC"))  # fmt: skip
    words = cut_out_words(wrong, bc.work_out(wrong), "the wood at the tube")
    best = cut_out_advice(wrong, holding(wrong)).best
    assert "150 degC, opens in use. One marked " + bc.say("temp_c", best.rating_c) in words
    assert "but not for this" in cut_out_words(right, bc.work_out(right), "the wood at the tube")
    pot = bc.load_chosen("wax_pot")
    assert "opens in use, and none of those" in cut_out_words(pot, bc.work_out(pot), "the paraffin-wax")


def test_differences_keep_their_unit_and_unlike_things_have_none():
    assert difference("283 degC", "245 degC") == "-38 K" and difference("1.20 A", "1.45 A") == "+0.25 A"
    assert difference("283 degC", "not known") == "" and difference("0.75 mm", "1.20 A") == ""


def test_every_verdict_has_a_harm_and_every_row_of_harm_a_verdict():
    seen = {v.what for demo in bc.demos() for _, v in bc.work_out(bc.load_chosen(demo), samples=0).verdicts}
    assert all(1 <= harm_of(bc.Verdict(what, "", 0, 0, "", 0, None, "over", "", ""))[0] <= 5 for what in seen)
    begins = [r["begins"] for r in rows("harm")]
    assert begins[-1] is None and len(set(begins)) == len(begins)


def test_a_cure_that_ends_over_and_hotter_is_none_and_the_place_is_named():
    """Of many places the worst is told: with its name, and a change that makes another one worse is no cure."""
    wood = Verdict("left on and forgotten", "temp_c", 210.0, 77.0, "at most", -133.0, None, "over", "", "")
    wood = replace(wood, place="the wood")
    mica = replace(wood, value=1231.0, limit=482.0, margin=-749.0, place="the mica")
    assert _hotter_still(mica, wood) and not _hotter_still(replace(wood, value=150.0), wood)
    assert not _hotter_still(replace(mica, state="tight"), wood)
    assert "the wood 210 degC" in stands_line(bc.load_chosen("insert_press"), wood)
    cure = Cure("more bare tube", (), 1)
    both = wood, replace(wood, what="power stuck on")
    lines = tuple(Mend("heat", v, "fire", cure, replace(mica, value=490.0)) for v in both)
    ((told, _),) = cure_lines(bc.load_chosen("insert_press"), ToMend(lines, 0, ()))
    assert told.count("490 degC") == 1 and "the mica, now the nearest to its limit" in told


def test_a_held_tool_is_told_as_it_is_held_and_its_law_is_a_cure():
    """The calm law costs nothing and runs cooler; a relay would wear by it. Of two micas the other one is named."""
    iron = bc.load_chosen("foil_iron")
    mica = Verdict("as held: the mica sheet between coil and shroud", "hottest_c", 515.0, 500.0, "at most", -15.0, None,
                   "over", "", "")  # fmt: skip
    words = [cure.words for cure in own_cures(iron, bc.work_out(iron, samples=0), mica)]
    assert words[0] == "proportional-integral instead of on-off"
    assert "mica sheet (natural, phlogopite) there instead" in words
    relay = bc.change(iron, "control.way", "relay")
    assert "there instead" in own_cures(relay, bc.work_out(iron, samples=0), mica)[0].words
    cure = Cure("the calm law", (), 1)
    lines = Mend("control", mica, "fire", cure, replace(mica, value=480.0, state="fine"), 355.0, "tip")
    ((told, _),) = cure_lines(iron, ToMend((lines,), 0, ()))
    assert "held as today, the tip is then at 355 degC" in told


def test_a_winding_with_bare_metal_in_front_is_wound_further_from_the_handle():
    """By geometry: as many turns at the same pitch, its middle nearer to the tip by what is said, on its own part; heat
    that is made further away has more tube to lose it from, so the handle's end is cooler and the tip hotter."""
    press = bc.load_chosen("insert_press")
    short, spread = bc.change(press, "coil.length_m", 0.4), bc.change(press, "coil.tails.length_m", 0.1)
    for path, value in (("coil.pitch_m", None), ("coil.from_m", 0.045), ("coil.to_m", 0.08)):
        spread = bc.change(spread, path, value)
    bit = from_job(job_shape("winding on the bit"), 0.008, wanted_c=300.0).build
    for build in (short, spread, bit):
        part = next(p for p in build.part if p.id == build.coil.on)
        was = bc.work_out(build, samples=0)
        found = [c for c in cures_of(build) if "further from the handle" in c.words]
        assert len(found) == 2
        for cure in found:
            moved = cure.on(build)
            now, ends = bc.work_out(moved, samples=0), (moved.coil.from_m, moved.coil.to_m)
            by_m = float(re.search(r"wound ([\d.]+) mm", cure.words)[1]) / 1e3
            assert sum(coil_span(build.coil, part)) / 2 - sum(ends) / 2 == pytest.approx(by_m, abs=1e-4)
            assert part.from_m <= ends[0] and now.coil.turns == pytest.approx(was.coil.turns, rel=1e-3)
            assert now.coil.spare_m > -1e-4 and now.heat.entry_c < was.heat.entry_c and now.heat.tip_c > was.heat.tip_c
            assert by_m <= coil_span(build.coil, part)[0] / (2 if part.role == "tip" else 1)
    near = next(c for c in cures_of(spread) if "further" in c.words).on(spread)
    assert near.coil.tails.length_m == pytest.approx(0.107)  # they reach as far back as before
    assert not [c for c in cures_of(press) if "further" in c.words]  # its stem is wound from end to end


def test_what_gets_too_hot_with_the_best_change_is_changed_beside_it(press):
    """No layer of the iron alone: together all that can short is within its limit.  What can burn has its own cure."""
    build = bc.load_chosen("foil_iron")
    found = mend_first(build, bc.work_out(build, samples=60))
    left = next(m for m in found.first if m.verdict.what.startswith("power stuck on: "))
    assert left.cured and left.cure.words.count("; ") == 2 == len(left.cure.moves) - 1
    for path, key in left.cure.moves:
        alone = bc.work_out(bc.change(build, path, key), samples=0).of("control")
        assert next(v for v in alone if v.what == left.verdict.what).state == "over"
    whole = bc.work_out(left.cure.on(build)).of("control")
    assert next(v for v in whole if v.what == left.verdict.what).state == "fine"
    fire = next(m for m in found.first if m.verdict.what == "power stuck on")
    assert fire.cured and not any("layer" in path for path, _ in fire.cure.moves)


def test_an_insulation_put_beside_a_cure_takes_the_place_of_the_one_before():
    iron = bc.load_chosen("foil_iron")
    hot = Verdict("left on and forgotten", "temp_c", 700.0, 500.0, "at most", -200.0, None, "over", "", "",
                  place="the mica sheet between coil and shroud")  # fmt: skip
    first = and_layer(iron, NOTHING, hot)[0]
    (path, _), = first.moves  # fmt: skip
    again = and_layer(iron, first, replace(hot, value=900.0))
    assert again and all(len(c.moves) == 1 and c.moves[0][0] == path and c.moves != first.moves for c in again)
    assert all(c.words.count("between coil and shroud") == 1 for c in again)
    beside = first.beside(Cure("20 mm more bare tube", (("part.shroud.to_m", 0.27),), 3))
    words = [c.words for c in and_layer(iron, beside, replace(hot, value=900.0))]
    assert words and all(w.startswith("20 mm more bare tube; ") for w in words)
    tails = and_layer(iron, NOTHING, replace(hot, place="the silica fibre sleeve on the tails"))
    assert [c.moves for c in tails] == [(("coil.tails.sleeve", "ceramic-fibre-braid"),)]
    assert not and_layer(iron, NOTHING, replace(hot, place="the wood at the tube"))
