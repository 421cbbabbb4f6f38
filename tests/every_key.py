"""A sheet that holds every key once, with values that fit together."""

from benchcalc.sheet.schema import KEYS, LISTS

# One good value for every key, by kind; places and ids that must fit together are named below.
GOOD = {
    "text": '"some words"',
    "flag": "true",
    "gauge": '"28 AWG"',
    "alloy": '"nicr-80-20"',
    "mounting": '"open coil in air"',
    "m": '"5 mm"',
    "v": '"12 V"',
    "a_s": '"4 Ah"',
    "j": '"72 Wh"',
    "a": '"3 A"',
    "ohm": '"1.5 ohm"',
    "w": '"20 W"',
    "s": '"30 s"',
    "c": '"55 degC"',
    "m_s": '"0.2 m/s"',
    "count": "2",
    "minutes": "5",
    "hours": "2",
    "s bare": "30",
    "m2": '"0.75 mm2"',
    "v bare": "16.5",
    "a bare": "1.5",
    "ohm bare": "1.5",
    "h_per_year bare": "200",
    "pair": '["a", "b"]',
    "material": '"copper"',
    "insulation": '"PTFE"',
    "finish": '"bright"',
    "joint": '"threaded"',
    "kg_m3": '"700 kg/m3"',
    "ratio": '"8 %"',
    "n": '"25 N"',
    "k": '"4 K"',
}
OWN = {
    "wire.id": '"w"',
    "part.id": '"a"',
    "coil.wire": '"w"',
    "coil.on": '"a"',
    "supply.reading.with": '"cheap multimeter"',
    "wire.leads_ohm": "0.2",
    "want.temperature": '"200 degC"',
    "coil.wire_temperature": '"500 degC"',
    "soak.cold_room": '"20 degC"',
    "soak.end_room": '"22 degC"',
    "soak.class": "105",
    "soak.place": '"60 degC"',
    "soak.cold_ohm": "1.2",
    "marker.material": '"tin"',
    "lead_out.solder": '"solder-sn60pb40"',
    "lead_out.cable": '"PVC"',
    "supply.core_width": '"20 mm"',
    "supply.core_stack": '"20 mm"',
    "other_supply.id": '"o"',
    "supply.reading.watts": "24.75",
    "supply.reading.ohms": "11",
    "supply.reading.clipped": '"40 cm"',
    "control.set": '"200 degC"',
    "control.cut_out": '"240 degC"',
    "control.cut_out_at": '"60 mm"',
    "control.cut_out_hold": '"200 degC"',
    "sensor.class": '"2"',
    "sensor.on": '"a"',
    "as_built.reading.low": "1",
    "as_built.reading.high": "3",
    "learned.value": "1",
    "learned.low": "0.5",
    "learned.goes_with": '"1"',
    "heat_break.id": '"h"',
    "heat_break.on": '"a"',
    "heat_break.diameter": '"1.5 mm"',
    "heat_break.spacing": '"4 mm"',
    "heat_break.slot": '"0.2 mm"',
}
SPAN = {
    "from": '"2 mm"',
    "to": '"40 mm"',
    "inner": '"4 mm"',
    "outer": '"6 mm"',
    "width": '"1 mm"',
    "thickness": '"0.1 mm"',
}
LEFT = {"wire": ("gauge", "diameter")}  # one size of a wire only; the others get their own sheets below


def good(key):
    path = f"{key.section}.{key.key}"
    return (
        OWN.get(path)
        or SPAN.get(key.key)
        or (f'"{key.choices[0]}"' if key.choices else GOOD[key.kind + " bare" * ("bare" in key.marks)])
    )


def maximal():
    text = "[sheet]\n" + "".join(f"{k.key} = {good(k)}\n" for k in KEYS["sheet"].values())
    for section in [s for s in KEYS if s != "sheet"]:
        text += f"[[{section}]]\n" if section in LISTS else f"[{section}]\n"
        text += "".join(f"{k.key} = {good(k)}\n" for k in KEYS[section].values() if k.key not in LEFT.get(section, ()))
    return (
        text
        + '[[part]]\nid = "b"\n[[wire]]\nid = "round"\ngauge = "28 AWG"\n[[wire]]\nid = "thick"\ndiameter = "1 mm"\n'
    )


MAXIMAL = maximal()
