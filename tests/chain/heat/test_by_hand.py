"""From the fin by hand to the tool: each step is the same equation with one simplification less."""

import benchcalc as bc
from benchcalc.chain.heat.by_hand import hand_steps

REACH_M, K_W_MK, SECTION_M2 = 0.0488, 55.7, 27.01e-6


def test_what_passes_under_the_handle_explains_most_of_the_gap():
    build = bc.load_chosen("insert_press")
    steps = hand_steps(build, bc.work_out(build, samples=0).heat, REACH_M, K_W_MK, SECTION_M2)
    assert steps.hand_k > steps.drained_k and steps.beyond_w > 0
    # the last step, with loss and conductivity of one temperature only, stands within a tenth of the tool
    assert abs(steps.drained_k / steps.tool_k - 1) < 0.1 < steps.hand_k / steps.tool_k - 1


def test_a_tool_without_a_tube_into_a_handle_has_no_steps():
    for demo in ("wax_pot", "foam_bow"):
        build = bc.load_chosen(demo)
        assert hand_steps(build, bc.work_out(build, samples=0).heat, REACH_M, K_W_MK, SECTION_M2) is None
