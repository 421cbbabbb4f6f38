"""A live picture against the same figure drawn whole by matplotlib: alternated rounds in one run, medians compared."""

import io
import statistics
import time

import benchcalc as bc
from benchcalc.show.wire.stacked_figure import WIRE_SIZING, Live

ROUNDS, LEAST_RATIO = 25, 2.0


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


def time_ms(act, *arguments):
    start_s = time.perf_counter()
    act(*arguments)
    return 1e3 * (time.perf_counter() - start_s)


def test_moving_parts_over_a_kept_background_are_faster_than_the_whole_figure(capsys):
    quick, plain = Live(WIRE_SIZING), Live(WIRE_SIZING)
    for artist in plain.artists.moving:
        artist.set_animated(False)
    numbers = [numbers_at(0.60 + 0.01 * k) for k in range(ROUNDS)]
    quick.png(numbers[0])
    whole(plain, numbers[0])
    live_ms, whole_ms = [], []
    for k, at in enumerate(numbers):
        pair = [(live_ms, quick.png, (at,)), (whole_ms, whole, (plain, at))]
        for times, act, arguments in pair if k % 2 else reversed(pair):
            times.append(time_ms(act, *arguments))
    live, full = statistics.median(live_ms), statistics.median(whole_ms)
    with capsys.disabled():
        print(
            f"\nlive picture {live:.1f} ms, whole figure {full:.1f} ms, {full / live:.1f} times (at least {LEAST_RATIO:g})"
        )
    assert full / live >= LEAST_RATIO
