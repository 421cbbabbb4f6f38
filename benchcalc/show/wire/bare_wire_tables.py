"""Tables for a bare wire in the air, and for what its colour is called."""

from dataclasses import replace

import numpy as np

from ...basics.band import band_of
from ...basics.names import say
from ...basics.tables import source_words
from ...chain.heat.bare_wire import work_bare
from ...chain.workings import SAMPLES, band_text, drawn_builds, links
from ...materials.glow import brightness, colour_words, seen_in, spread_called, temperatures_called
from ...sheet.defaults import default
from ...thermal.surfaces.bare_wire import cooled_length, wire_heat
from ...thermal.surfaces.surface_loss import surface_words
from ..page.open_page import derive
from ..page.table import table
from ..supply.tables import instead_of

TEMPS_C = (100.0, 200.0, 300.0, 400.0, 500.0, 600.0, 800.0, 1000.0)
DESK_CD_M2 = 100.0  # a page under a desk lamp, from memory


def first_seen(temp_c):
    """The brightest surroundings in which a temperature still shows as red heat, in words.

    temp_c: degC, a float.
    Returns "in daylight" or the like, or "nowhere".
    """
    seen = [name for name, yes in seen_in(temp_c).items() if yes]
    return seen[-1] if seen else "nowhere"


def bare_currents(build, workings, temps_c=TEMPS_C):
    """The sheet's wire, straight and bare in the sheet's room, at some temperatures.

    build: Build. workings: Workings. temps_c: degC, rising.
    Returns Table: current, volts of a metre, watts of a metre, share radiated, length a clamp cools, where it glows.
    """
    if (no := instead_of(workings, "bare wire")) is not None:
        return no
    way = {"units": build.units, "degrees": build.degrees}
    temps_c = [t for t in temps_c if t > build.room.ambient_c + 1]
    found = work_bare(build, workings.wire, np.array(temps_c)) if temps_c else None
    if found is None:
        return table(("bare wire",), [("The sheet does not give the wire's diameter or ohms.",)])
    spans = current_spans(build, workings.wire, temps_c)
    rows = [
        (
            say("wire_c", t, **way),
            band_text(spans[i], "load_a", **way),
            say("load_v", float(found.load_v[i])),
            say("wire_w_m", float(found.wire_w_m[i]), **way),
            f"{found.radiated_w_m[i] / found.wire_w_m[i]:.0%}",
            say("cooled_m", float(found.cooled_m[i]), **way),
            first_seen(t),
        )
        for i, t in enumerate(temps_c)
    ]
    return table(
        (
            "wire",
            "current (likely range in this room)",
            "volts on one metre",
            "heat made",
            "share radiated",
            "cooled by each clamp",
            "glow seen",
        ),
        rows,
    )


def current_spans(build, wire, temps_c):
    """Bands of the current that holds the sheet's wire at some temperatures: its room's air, its surface, its ohms.

    build: Build. wire: its WirePart. temps_c: degC.
    Returns list of Band, A.
    """
    drawn, spans = drawn_builds(build, None, wire), []
    many = links(drawn).wire
    for t in temps_c:
        nominal, found = work_bare(build, wire, t), work_bare(drawn, many, t)
        spans.append(band_of(float(nominal.load_a), np.broadcast_to(found.load_a, SAMPLES)))
    return spans


def how_good(build, workings, temp_c=600.0):
    """How far the currents of the sheet's bare wire are to be trusted: the equation's range, what a draught does, and
    which way published currents lie.

    build: Build. workings: Workings. temp_c: degC looked at.
    Returns a few sentences, "" where the wire is not known or the supply is refused.
    """
    room, way = build.room, {"units": build.units, "degrees": build.degrees}
    if workings.supply is not None and workings.supply.refused:
        return ""
    here = None if workings.wire is None else work_bare(build, workings.wire, temp_c)
    if here is None:
        return ""
    still = work_bare(replace(build, room=replace(room, air_speed_m_s=0.0)), workings.wire, temp_c)
    words = surface_words(
        temp_c, room.ambient_c, float(workings.wire.edge_m / np.pi), room.air_speed_m_s, room.attitude or "lying"
    )
    at = f"At {say('wire_c', temp_c, **way)}: {words} "
    amps = [say("load_a", float(part.load_a)) for part in (still, here)]
    air = "In still air it would take {} in place of {}. ".format(*amps)
    fine = default("wire.fine_low")
    return (
        at
        + air
        + "Against currents that makers print, the equation for still air keeps within 15 % from 0.8 mm down to "
        f"0.13 mm; at dull red, {fine['note']}, it says {fine['low']:.0%} to {fine['high']:.0%} less than is printed "
        f"({source_words(fine['source_id'])}), always less: nobody's air is still."
    )


def glow_names(build, temps_c=(450.0, 550.0, 650.0, 750.0, 850.0, 950.0, 1100.0)):
    """What published tables call the same temperature, side by side, and how bright it looks.

    build: Build, for its degrees. temps_c: degC.
    Returns Table.
    """
    tables = list(colour_words(temps_c[0]))
    rows = [
        (
            say("temp_c", t, degrees=build.degrees),
            *(colour_words(t)[s] or "–" for s in tables),
            _bright(float(brightness(t, 0.87)) / DESK_CD_M2),
        )
        for t in temps_c
    ]
    return table(("", *tables, "beside a lit page"), rows)


def _bright(share):
    if share < 0.1:
        return f"1/{float(f'{1 / share:.1g}'):,.0f}".replace(",", " ")
    return f"{share:.1g}" if share < 1 else f"{float(f'{share:.2g}'):g} times"


def colour_spread(build, words=("dark red", "cherry", "orange")):
    """From where to where published tables put a colour.

    build: Build, for its degrees. words: colour words.
    Returns Table.
    """
    rows = []
    for word in words:
        low, high = spread_called(word)
        rows.append(
            (
                word,
                say("temp_c", low, degrees=build.degrees),
                say("temp_c", high, degrees=build.degrees),
                say("rise_k", high - low, degrees=build.degrees),
                f"{len({f[0] for f in temperatures_called(word)})}",
            )
        )
    return table(("called", "from", "to", "apart", "tables"), rows)


def bare_heat(build, workings, temp_c=300.0):
    """Worked: the heat each metre of the sheet's wire makes where it holds a temperature in its room.

    build: Build. workings: Workings. temp_c: degC, above the room.
    Returns Derivation, or Words where the sheet does not give the wire's section.
    """
    found = work_bare(build, workings.wire, temp_c)
    return derive(
        wire_heat,
        fed=workings,
        load_a=found and found.load_a,
        linear_ohm_per_m=workings.wire.linear_ohm_per_m,
        hot_factor=found and found.hot_factor,
    )


def bare_ends(build, workings, temp_c=300.0):
    """Worked: how far a cold clamp cools the same wire.

    build: Build. workings: Workings. temp_c: degC, above the room.
    Returns Derivation, or Words where the sheet does not give the wire's section.
    """
    found = work_bare(build, workings.wire, temp_c)
    return derive(cooled_length, fed=workings, reach_m=found and found.reach_m)
