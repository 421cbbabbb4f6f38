"""Bench sheets: what to read at the bench, evening by evening, with room to write it down."""

from html import escape

from ...basics.escape import plain_text
from ...basics.fault import fault
from ...basics.names import say
from ...studies.lesson.class_data import BenchReading
from ...studies.lesson.first_evening_readings import first_evening
from ...studies.lesson.four_ways import ON_THE_TABLE
from .line_drawings import CIRCUITS, hung_over_board
from .paper_page import SPACE, blanks, document, graph_grid

FOOT = f"<p>bench: {SPACE} date: {SPACE}</p>"
STOP = "Adults switch on. Anybody switches off, at once, without asking. "


def bench_sheet(evening: int = 1) -> str:
    """The bench sheet of an evening.

    evening: 1 to 6; of the fifth it is the log sheet.
    Returns HTML.  Raises Fault for another.
    """
    sheets = {1: _first, 2: _second, 3: _third, 4: _fourth, 5: log_sheet, 6: _sixth}
    if evening not in sheets:
        raise fault("evening", evening, f"must be 1 to {len(sheets)}.")
    return sheets[evening]()


def _reading(asked: BenchReading) -> str:
    cells = [plain_text(asked.row).replace(" ", "&nbsp;"), plain_text(asked.what)]
    band = f"{say(asked.key, asked.expected.low)} to {say(asked.key, asked.expected.high)}".replace(" ", "&nbsp;")
    edge = f'<td class="edge">{band}</td>'
    return f'<tr><td>{cells[0]}</td><td>{cells[1]}</td><td class="blank"></td>{edge}</tr>'


def _first() -> str:
    rows = "".join(map(_reading, first_evening()))
    settings = tuple(dict.fromkeys(a.row.split()[0] for a in first_evening()))
    wire, pull = say("diameter_m", ON_THE_TABLE.diameter_m), say("mass_kg", ON_THE_TABLE.weight_kg)
    return document(
        "bench sheet 1",
        "<div class='kept'><h1>Bench sheet, evening one</h1>"
        + FOOT
        + f'<p class="stop">{STOP}Off, count to sixty, then move the clip. Wire that does not glow still burns, and so '
        f"do lamp and tube. The lamp's outlet never without the lamp.</p><pre>{escape(hung_over_board())}</pre><p "
        f"class='small'>Wire: nickel-chromium, {wire}; weight {pull}.</p><pre>{escape(CIRCUITS)}</pre>"
        '<p class="small">Fold the right edge back along the dashed line; open it when all is filled in.</p></div>'
        "<table class='edged'><tr><th>row</th><th>what to read</th><th>your reading</th><th class='edge'>fold: "
        f"within</th></tr>{rows}</table><div class='kept'><h2>Watts of each setting: volts times "
        f"amps</h2>{blanks(('', *settings), ('watts',))}<p class='small'>Which way do they go with length in A? In B? "
        "Begin with what stayed the same.</p><h2>C, on the teacher's "
        f"bench</h2>{blanks(('called out', 'volts', 'amps', 'watts', 'bead on the tube, degC'), ('C',))}<p "
        "class='small'><b>Outside?</b> Volts first: does the outlet hold them? Say what it reads. Clips: squeeze and "
        "turn them, read again. Length: between the inner edges of the clips, with the tape on the wire. Meter: amps "
        "socket, and AC or DC as the outlet says. Volts right, amps still out, and the neighbours too? Then the wire "
        "is not what its reel says: measure its ohms for each metre.</p></div>",
    )


def _second() -> str:
    return document(
        "bench sheet 2",
        "<h1>Bench sheet, evening two</h1>"
        '<p class="stop">Only the teacher pushes and pulls plugs. Anybody says “off”, and it is off. No probe on pins '
        "unless that very plug lies on the table. No brick, no switch-mode box. A smell ends it.</p>"
        "<h2>1. Cold, before anything is plugged in</h2>"
        f"<p>ohms between the two pins: {SPACE}</p><p>room: {SPACE} hours that the box stood in it: {SPACE}</p>"
        "<p class='small'>Nothing at all between the pins: its thermal link has opened. Scrap.</p>"
        "<h2>2 and 3. The line</h2><p class='small'>A slow fuse sits in one low lead, next to the box. Lamps on a "
        "tile, under a guard.</p>"
        + blanks(
            ("", "volts at the lamp's own ends", "amps", "range of the meter"),
            ("nothing connected", "one lamp", "two lamps side by side"),
        )
        + "<p class='small'>No load half as much again as the lamp's label, or more: no lamp goes on. One lamp pulls "
        "the volts down by more than a quarter: no second one.</p>"
        + graph_grid("amps, 0 to ____", "volts, 0 to ____")
        + f"<p>volts lost from one lamp to two: {SPACE}</p><p>for how many amps more: {SPACE}</p>"
        f"<p>ohms inside = volts lost / amps more: {SPACE}</p>"
        f"<p>volts unloaded = volts of one lamp + its amps times those ohms: {SPACE}</p>"
        f"<p>read with nothing connected: {SPACE}</p>"
        f"<p>watts in one lamp = its volts times its amps: {SPACE}</p>",
        "<h1>The soak: one for the room, on the teacher's table</h1>"
        '<p class="stop">It begins when every other plug lies on the table. The teacher stays beside it.</p>'
        f"<p>load: {SPACE} switched on at: {SPACE}</p><p>ohms cold: {SPACE} room then: {SPACE}</p>"
        + blanks(("clock", "ohms, just unplugged", "amps before", "room, degC", "read by"), ("&nbsp;",) * 7)
        + "<h2>How warm is its copper?</h2><p>Share by which the ohms grew = (last less cold) / cold: "
        f"{SPACE}</p><p>times (234.5 + room when cold): {SPACE} kelvin</p><p>less what the room itself warmed: {SPACE} "
        "kelvin above the room</p><p class='small'>It is the mean of the winding, read a moment late: its hottest "
        "place is some ten kelvin warmer.</p><h2>What I can say now</h2><p>“Unloaded it has ______ volts, and for each "
        "ampere it loses ______.”</p><p>“After ______ minutes its winding was ______ kelvin above the room, by its own "
        "ohms.”</p>" + FOOT,
    )


def _third() -> str:
    return document(
        "bench sheet 3",
        '<h1>Bench sheet, evening three</h1><p class="stop">Cut ends spring: eye protection on before the first cut. '
        "Nothing is heated tonight.</p><h2>Bags A to E</h2>"
        + blanks(
            (
                "bag",
                "magnet: yes, weakly, no",
                "ten turns, mm",
                "thickness, mm",
                "ohms",
                "probes together, ohms",
                "length, m",
                "ohms a metre",
                "my guess",
            ),
            tuple("ABCDE"),
        )
        + "<h2>The coil on a pencil</h2>"
        f"<p>wire cut: {SPACE} pencil, across: {SPACE}</p><p>turns: {SPACE} room that they take: {SPACE}</p>"
        f"<p>ohms straight: {SPACE} ohms wound: {SPACE}</p><p>Fewer wound than straight? Then two turns touch.</p>"
        + FOOT,
    )


def _fourth() -> str:
    return document(
        "bench sheet 4",
        '<h1>Bench sheet, evening four</h1><p class="stop">Rods and plate burn; whoever is at the plate switches it '
        "off. The bag with the board stays shut.</p><h2>Three rods: minute at which each drop fell</h2>"
        + blanks(
            ("rod", "my order", "2 cm", "4 cm", "6 cm", "8 cm", "10 cm", "never fell from"),
            ("copper", "brass", "steel"),
        )
        + "<h2>What may sit between wire and metal</h2>"
        + blanks(
            ("", "bends, cracks, frays?", "limit on page 04, degC", "where in a tool?"),
            ("mica", "glass sleeve", "tape"),
        )
        + '<h2>Joints</h2><p class="stop">'
        + STOP
        + "The wire that sets the ampere is hot.</p>"
        + blanks(("joint", "amps", "millivolts across it", "milliohms: millivolts / amps"), ("clip", "crimp", "screw"))
        + FOOT,
    )


def _sixth() -> str:
    return document(
        "bench sheet 6",
        '<h1>Bench sheet, evening six</h1><p class="stop">'
        + STOP
        + "A resistor in the line gets as hot as the coil. Nobody lets the sensor fall off.</p><h2>Ways to half</h2>"
        + blanks(
            ("way", "volts at the coil", "amps", "watts", "share of full", "what else got hot?"),
            ("full", "resistor in the line", "lower outlet", "ten seconds on, ten off", "diode (only on AC)"),
        )
        + f"<h2>Held by hand</h2><p>hold at: {SPACE} one reads, one switches, one writes</p>"
        + blanks(("switched on at", "reading", "switched off at", "reading", "highest after"), ("&nbsp;",) * 10)
        + f"<p>swing, lowest to highest: {SPACE}</p>"
        + FOOT,
    )


def log_sheet() -> str:
    """A sheet for a warm-up logged by hand: the bet first, then times and readings.

    Returns HTML.
    """
    blank = "<tr>" + '<td class="blank">&nbsp;</td>' * 4 + "</tr>"
    return document(
        "log sheet",
        "<h1>A warm-up by hand</h1>"
        '<p>room: <span class="space"></span> switched on at: <span class="space"></span></p>'
        '<p>volts at the tool: <span class="space"></span> where the bead sits: <span class="space"></span></p>'
        '<p>at minute three I say: it ends at <span class="space"></span> within 5 K of it at minute '
        '<span class="space"></span></p>'
        f"<table><tr><th>minute</th><th>reading</th><th>minute</th><th>reading</th></tr>{blank * 22}</table>",
    )
