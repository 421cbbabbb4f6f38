"""A live picture against the same figure drawn whole by matplotlib: what is drawn for a move is counted."""

import io

from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg

import benchcalc as bc
from benchcalc.show.wire.stacked_figure import WIRE_SIZING, Live

MOVES = 5
LEAST_RATIO = 2.0


def numbers_at(length_m):
    build = bc.change(bc.load_chosen(), "coil.length_m", length_m)
    return WIRE_SIZING.numbers(build, bc.links(build))


def whole(live, numbers):
    """The same artists at the same numbers, drawn and encoded by matplotlib itself."""
    WIRE_SIZING.frame(live.artists, numbers)
    WIRE_SIZING.move(live.artists, numbers)
    live.figure.canvas.draw()
    out = io.BytesIO()
    live.figure.canvas.print_png(out)
    return out.getvalue()


def test_moving_parts_are_drawn_over_a_kept_background(race, monkeypatch):
    """No move draws the whole figure; lines and words drawn are less than half of what the whole figure takes."""
    quick, plain = Live(WIRE_SIZING), Live(WIRE_SIZING)
    for artist in plain.artists.moving:
        artist.set_animated(False)
    first, *others = [numbers_at(0.60 + 0.01 * k) for k in range(MOVES + 1)]
    quick.png(first)
    whole(plain, first)
    race(
        {
            f"live picture, {MOVES} moves": lambda: [quick.png(at) for at in others],
            f"whole figure, {MOVES} times": lambda: [whole(plain, at) for at in others],
        }
    )
    drawn = {"draw_path": 0, "draw_text": 0, "draw": 0}

    def counting(holder, name):
        real = getattr(holder, name)

        def call(self, *given, **named):
            drawn[name] += 1
            return real(self, *given, **named)

        monkeypatch.setattr(holder, name, call)

    counting(RendererAgg, "draw_path")
    counting(RendererAgg, "draw_text")
    counting(FigureCanvasAgg, "draw")
    pictures = [quick.png(at) for at in others]
    live = dict(drawn)
    whole(plain, others[-1])
    full = {name: drawn[name] - live[name] for name in drawn}
    assert live["draw"] == 0 and full["draw"] >= 1
    lines, of_whole = (n["draw_path"] + n["draw_text"] for n in (live, full))
    assert 0 < LEAST_RATIO * lines < MOVES * of_whole
    assert len(set(pictures)) == MOVES  # each move is a picture of its own
