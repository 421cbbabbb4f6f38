"""The door for workbooks: tables, pictures, panels and studies by one name each, wherever they live inside.

A page imports from here, from `benchcalc` itself, numpy, and the formula modules whose derivations it shows.

>>> from benchcalc.pages import derive
>>> from benchcalc.heater import supply
>>> derive(supply.load_current, open_v=12.0, source_ohm=0.5, load_ohm=5.5).value
2.0
"""

from importlib import import_module

# name on a page -> module of this package; or "module:name there"
DOORS = {
    # opening a page, prose, plain tables
    "open_sheet": "show.page.open_page:open_sheet",
    "ready": "show.page.open_page:ready",
    "derive": "show.page.open_page:derive",
    "lesson": "show.page.lesson",
    "table": "show.page.table",
    "shared_tables": "show.page.shared_tables",
    "picture": "show.drawing.live_picture:picture",
    "sheet_form": "show.editor.editor:sheet_form",
    "mend_first": "show.panel.mending:found_to_mend",
    "mend_panel": "show.panel.mending:mend_panel",
    "mend_words": "show.panel.mending:mend_words",
    "way": "show.page.way:way",
    # exercises
    "learner_form": "show.lesson.learner:learner_form",
    "exercises_form": "show.lesson.ask:exercises_form",
    "class_tables": "show.lesson.class_tables",
    "evening_two_tables": "show.lesson.evening_two_tables",
    "plan_tables": "show.lesson.plan_tables",
    "class_form": "show.lesson.class_form:class_form",
    "guesses_of": "studies.lesson.bank:guesses_of",
    "keys_of": "studies.lesson.bank:keys_of",
    "example_numbers": "show.lesson.ask:example_numbers",
    "predict_form": "show.lesson.predict:predict_form",
    # supply
    "bench_tables": "show.supply.bench_tables",
    "supply_tables": "show.supply.tables",
    "joined_tables": "show.supply.joined_tables",
    "switched": "show.supply.switched_table:switched",
    "SUPPLY_LINE": "show.supply.panel:SUPPLY",
    "supply_panel": "show.supply.panel:supply_panel",
    "at_load": "show.supply.panel:at_load",
    "with_load": "show.supply.panel:with_load",
    # wire
    "bare_wire_tables": "show.wire.bare_wire_tables",
    "wire_tables": "show.wire.tables",
    "does_it_glow": "show.wire.wire_heat:does_it_glow",
    "scrap_tables": "show.wire.scrap_tables",
    "WIRE_SIZING": "show.wire.stacked_figure:WIRE_SIZING",
    "wire_panel": "show.wire.panel:wire_panel",
    "near_sizes": "show.wire.panel:near_sizes",
    # metals
    "metal_tables": "show.metals.tables",
    "joint_tables": "show.metals.joint_tables",
    "piece_tables": "show.metals.piece_tables",
    "METAL_LADDER": "show.metals.figure:LADDER",
    "metals_panel": "show.metals.panel:metals_panel",
    "at_heater": "show.metals.panel:at_heater",
    "with_metals": "show.metals.panel:with_metals",
    "standing": "chain.metals.ranking:standing",
    # insulation
    "insulation_tables": "show.insulation.tables",
    "INSULATION_STACK": "show.insulation.panel:PICTURE",
    "insulation_panel": "show.insulation.panel:insulation_panel",
    "at_own_temperature": "show.insulation.panel:at_own_temperature",
    "at_winding": "studies.stack_at_temperature:at_winding",
    "ages_where": "chain.insulation.organic_place:ages_where",
    # heat along the tool
    "heat_tables": "show.heat.tables",
    "bare_tube": "show.heat.bare_tube:bare_tube",
    "HEATED_TOOL": "show.heat.figure:TOOL",
    "heat_panel": "show.heat.panel:heat_panel",
    "time_panel": "show.heat.panel:time_panel",
    "at_own_power": "show.heat.panel:at_own_power",
    "at_wanted_power": "show.heat.panel:at_wanted_power",
    "spread_tables": "show.heat.spread_tables",
    "input_shares": "show.heat.share_table:input_shares",
    "WARM_FRONT": "show.heat.front_figure:FRONT",
    "front_form": "show.heat.front_form:front_form",
    "asked_first": "show.heat.spread_tables:asked_first",
    "asked_temperature": "studies.asked_temperature:asked_temperature",
    "work_heat": "chain.heat.link:work_heat",
    "forgotten": "chain.heat.left_on:forgotten",
    "power_for": "chain.heat.in_time:power_for",
    "safe_after": "chain.heat.in_time:safe_after",
    "time_for_job": "chain.heat.in_time:time_for_job",
    "time_to": "chain.heat.in_time:time_to",
    "warming": "chain.heat.in_time:warming",
    # warm-up logs
    "log_tables": "show.log.tables",
    "log_fit_tables": "show.log.fit_tables",
    "capacity_tables": "show.log.capacity_tables",
    "WARM_UP_LOG": "show.log.figure:LOG",
    "log_form": "show.log.form:log_form",
    "page_log": "show.log.page:page_log",
    "warm_up_panel": "show.log.page:warm_up_panel",
    "warm_up_answers": "show.log.page:warm_up_answers",
    "lent_panel": "show.log.page:lent_panel",
    "first_part": "show.log.page:first_part",
    "measured_heater": "show.log.page:measured_heater",
    "model_at": "show.log.page:model_at",
    "rises": "show.log.page:rises",
    "view_of": "show.log.numbers:view_of",
    # calibration
    "calibration_tables": "show.calibrate.tables",
    "CALIBRATION_BAND": "show.calibrate.figure:BAND",
    "calibrate_panel": "show.calibrate.panel:calibrate_panel",
    "page_probes": "studies.calibrate.practice_readings:page_probes",
    "learned_form": "show.calibrate.form:learned_form",
    "calibrated": "studies.calibrate.put_back:calibrated",
    # handle and heat break
    "handle_tables": "show.handle.tables",
    "leads_tables": "show.handle.leads_tables",
    "HEAT_BREAK": "show.handle.figure:BREAK",
    "handle_panel": "show.handle.panel:handle_panel",
    "handle_links": "show.handle.panel:handle_links",
    "greedy": "show.handle.panel:greedy",
    "to_play": "show.handle.panel:to_play",
    "with_holes": "show.handle.panel:with_holes",
    # turning down and holding
    "ways_tables": "show.control.ways_tables",
    "hold_tables": "show.control.hold_tables",
    "at_share": "studies.turned_down:at_share",
    "fail_tables": "show.control.fail_tables",
    "faults": "show.control.fault_table:faults",
    "into_the_box": "show.control.menu_words:into_the_box",
    "smooth_words": "show.control.menu_words:smooth_words",
    "on_the_bench": "show.control.bench_words:on_the_bench",
    "seat_tables": "show.control.seat_tables",
    "sensor_off_panel": "show.control.runaway_panel:sensor_off_panel",
    "HELD_TOOL": "show.control.figure:HELD_TOOL",
    "control_panel": "show.control.panel:control_panel",
    "to_hold": "show.control.panel:to_hold",
    "with_settings": "studies.settings:with_settings",
    "line_of": "chain.control.link:line_of",
    "lent_words": "show.page.lent:lent_words",
    "holding": "studies.holding:holding",
    "hold_band": "studies.held_elsewhere:hold_band",
    # the build card
    "shown_card": "show.card.write:shown_card",
    "card_drawing": "show.card.picture:card_drawing",
    "card_command": "show.card.write:card_command",
    "card_form": "show.card.form:card_form",
    "as_built_form": "show.card.form:as_built_form",
    "as_built": "studies.card.as_built",
    "as_built_tables": "show.card.as_built_tables",
    "pattern_of": "sheet.hole_defaults:pattern_of",
    "item": "sheet.change:item",
    # what to measure first
    "measure_first": "studies.doubt.ranked:measure_first",
    "doubt_tables": "show.doubt.tables",
    "DOUBT_LADDER": "show.doubt.figure:LADDER",
    "doubt_form": "show.doubt.form:doubt_form",
    "firmed_by": "studies.doubt.posterior:firmed_by",
    "Target": "studies.doubt.posterior:Target",
    "remedies": "studies.remedies:remedies",
    "advice": "studies.remedies:advice",
}
__all__ = sorted(DOORS)


def __getattr__(name: str):
    """What a page asks for, loaded when it is asked for.  name: one of DOORS.  Raises AttributeError for others."""
    if name not in DOORS:
        raise AttributeError(f"benchcalc.pages has no {name!r}")
    module, _, inner = DOORS[name].partition(":")
    found = import_module(f"{__package__}.{module}")
    found = getattr(found, inner) if inner else found
    globals()[name] = found
    return found


def __dir__():
    """The names of this door, for completion."""
    return __all__
