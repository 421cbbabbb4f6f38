"""The words of the glossary: name with its SI suffix | word of the trade | LaTeX symbol."""

WORDS = """
open_v | open-circuit voltage | U_0
source_ohm | source resistance | R_s
load_ohm | load resistance | R
load_v | voltage at the load | U
load_a | current | I
load_w | power in the load | P
source_loss_w | power lost inside the supply | P_s
total_ohm | resistance of the whole circuit | R_{tot}
most_power_w | most power the supply can give | P_{max}
wanted_w | wanted power | P^*
half_sum_ohm | half of the sum of the two resistances | R_{\\Sigma}
root_ohm | half of their difference | r
higher_ohm | higher of the two resistances | R_{hi}
lower_ohm | lower of the two resistances | R_{lo}
regulation | regulation (drop from no load, as a share of the loaded voltage) | \\varrho
first_v | voltage of the first reading | U_1
first_a | current of the first reading | I_1
second_v | voltage of the second reading | U_2
second_a | current of the second reading | I_2
drop_v | voltage drop between two readings | \\Delta U
step_a | step in current between two readings | \\Delta I
diameter_m | wire diameter | d
width_m | ribbon width | b
thickness_m | ribbon thickness | s
area_m2 | cross-section of the wire | A
edge_m | circumference of the section | u
resistivity_ohm_m | resistivity at 20 degC | \\rho
linear_ohm_per_m | cold resistance per length | r_{20}
length_m | length of wire that heats | \\ell
cold_ohm | cold resistance | R_{20}
hot_factor | hot factor: hot resistance over cold | f
hot_ohm | hot resistance | R_{hot}
tails_ohm | resistance of both tails | R_t
coil_w | power in the coil | P_c
tails_w | power in the tails | P_t
surface_m2 | surface of the wire | S
surface_load_w_m2 | surface load | p
former_m | outside diameter of the former with its insulation | D
mean_diameter_m | mean diameter of a turn | D_m
pitch_m | pitch | p_w
turn_m | length of one turn (helix) | \\ell_1
turns | number of turns | N
layers | layers of the winding | n_l
between_m | insulation between layers | t_b
winding_m | length of the winding along the former | L_w
room_m | room for the winding on the former | L_r
gap_m | gap between neighbouring turns | g
spare_m | room left over | L_r - L_w
ends_m | room kept free at each end | e
former_length_m | length of the former | L_f
anchor_turns | anchor turns at each end | n_a
anchor_m | wire in the anchor turns | \\ell_a
tail_m | length of one tail | \\ell_t
cut_m | wire to cut | \\ell_c
percent_w | watts for each per cent of ohms | P_{\\%}
one_turn_ohm | resistance of one turn | R_1
smallest_former_m | smallest sensible former | D_{min}
bend_ratio | former over wire diameter, at least | b_{min}
temp_c | temperature | T
wire_temp_c | wire temperature | T_w
ambient_c | room temperature | T_a
air_speed_m_s | air speed | w
charge_a_s | charge of a battery | Q
usable | usable share of a battery's charge | \\eta_Q
run_s | time that a charge lasts | t_Q
mains | voltage of mains or battery, as a share of today's | m_{\\sim}
warming | warm over cold source resistance | f_s
measured_ohm | measured resistance | R_m
measured_length_m | length that was measured | \\ell_m
leads_ohm | resistance of the meter's leads | R_\\ell
open_in_use_v | open-circuit voltage in use, mains swing included | U_{0,u}
source_in_use_ohm | source resistance in use, copper warm | R_{s,u}
best_load_ohm | load that takes the most power | R_{best}
limit_a | current at which the supply limits or trips | I_{lim}
table_ohm_per_m | cold resistance per length from the table | r_{tab}
most_in_coil_w | most power that can go into any coil here | P_{max,c}
short_length_m | length for the lower resistance | \\ell_{lo}
wire_w_m | heat made in each metre of wire | q'
layer_w_mk | conductivity of the layer | k_s
gas_w_mk | conductivity of the air | k_a
share | share that depends on the layer | c_1
crowding | crowding of the heat at the wire | c_2
excess_k | wire over the mean of the winding | \\Delta T_w
tip_c | tip temperature | T_{tip}
wire_c | hottest wire | T_{wire}
tube_c | tube, outside | T_{tube}
sheath_c | winding, hottest place of its mean | T_{wind}
entry_c | tube where the handle begins | T_{entry}
grip_c | handle's surface, hottest place | T_{grip}
bore_c | handle's wood at the tube, hottest place | T_{bore}
work_c | what is melted or held | T_{work}
hottest_c | hottest place of the part | T_{max}
conductivity_w_mk | thermal conductivity | k
section_m2 | cross-section of the metal | A_q
loss_w_m2k | heat shed by each area and kelvin | h
outer_m | outer diameter | D_o
inner_m | inner diameter | D_i
reach_m | reach of heat along the part | \\lambda
near_rise_k | rise over the room at the hot end | \\theta_0
far_rise_k | rise over the room at the far end | \\theta_L
reaches | length in reaches | x
part_length_m | length of the part | L
critical_m | critical radius of insulation | r_{cr}
meter_ohm | what a meter should read over the finished coil, cold | R_{read}
misfit | departure from the table, as a share | \\epsilon
full_rise_k | rise over the room of a long wire | \\theta_{long}
cooled_m | length cooled by each clamp | x_c
cold_winding_ohm | winding, cold | R_{1c}
hot_winding_ohm | winding at switch-off | R_{2h}
cold_temp_c | room at the cold reading | T_1
end_temp_c | room at the end | t_2
metal_k | constant of the winding's metal | \\kappa
growth | growth of the winding's ohms, as a share | \\gamma
winding_rise_k | rise of the winding | \\Delta T_{cu}
winding_c | mean temperature of the winding | T_{cu}
cable_m | length of the cable | \\ell_k
cable_m2 | section of one core of the cable | A_k
cable_ohm | cable, contacts and fuse | R_k
place_c | place of a cut-out | T_{cut}
winding_a | current in the supply's winding | I_w
short_a | current into a dead short | I_k
read_a | reading with the ammeter in | I_m
burden_v | volts across the ammeter | U_{am}
before_v | no-load volts before | U_{b0}
after_v | no-load volts after | U_a
loaded_v | volts under load | U_L
coil_m | length of the spiral | L_s
one_ohm | one resistance | R_a
other_ohm | the other resistance | R_b
strands | strands twisted together | n_s
test_a | current of the soak test | I_t
iron_share | part of the rise that the iron makes | \\beta
load_ratio | current over that of the test | x_I
other_rise_k | rise at the other current | \\Delta T_2
box_m2 | outside of the closed box | A_b
box_rise_k | air in the box over the room | \\Delta T_b
rated_v | rated voltage, as printed | U_r
rated_w | rated watts, as printed | P_r
lamp_a | current of the lamp | I_l
contacts_ohm | all contacts together | R_c
bare_m2 | section left under the scale | A_l
grown_ratio | ohms per metre over those of new wire | x_R
left_m | diameter left under the scale | d_l
cable_drop_v | volts lost in the cable | U_k
load_va | volt-amperes that the supply delivers | S_{VA}
core_va | volt-amperes of the core's hint | S_c
fuse_a | fuse | I_f
latest_s | time in which the fuse has opened at the latest | t_f
limit_c | limit | T_{lim}
settled_k | rise that the hours lead to | \\Delta T_\\infty
joint_c | joint of tails and cable | T_j
tails_c | hottest place of the tails | T_t
carried_w | heat that the tails carry into the handle | P_{tc}
lead_a | current in the cable | I_{cab}
cable_share | volts lost in the cable, as a share of the coil's | u_k
joint_at_m | place of the joint to the cable | z_j
strength_v_m | breakdown field of the insulation | E_b
withstand_v | volts that the layer holds off | U_b
layer_m | thickness of the layer | s_l
flow_w_m | heat that crosses each metre of the tool | \\Phi'
drop_k | drop in temperature | \\Delta T_s
absolute_k | absolute temperature | \\Theta
index_c | temperature index | T_i
halving_k | halving interval | \\Delta T_{1/2}
over_k | temperature above the index | \\Delta T_{ix}
part_k | absolute temperature times ln 2 | \\Theta_2
intercept | intercept of the ageing line | a
slope_k | slope of the ageing line | B
index_life_s | life at the temperature index | t_i
hot_life_s | life at the temperature | t_L
yearly_life_s | hot time in a year | t_y
hours_per_year | hours of use in a year | n_h
years | years of use | N_y
at_c | winding temperature looked at | T_{at}
margin_k | least margin to the limit for long service | \\Delta T_m
stack_m | thickness of all layers | s_\\Sigma
space_m | space for the layers | g_\\Sigma
through_w | watts that pass | q
contact_w_m2k | conductance of the joint, by area | h_c
contact_m2 | area that touches | A_c
same_as_m | length of metal that drops as much as the joint | \\ell_j
density_kg_m3 | density | \\rho_m
mass_kg | mass | m
specific_heat_j_kgk | specific heat | c
rise_k | rise in temperature | \\Delta T
energy_j | energy to warm it | E
least_s | least time to warm it | t_{min}
displaced_kg | water displaced | m_w
water_kg_m3 | density of water | \\rho_w
scale_kg | error of the scale | e_m
off_share | error of the density, as a share | \\epsilon_\\rho
fit_m | diameter of the fit | D_f
cold_gap_m | gap on the diameter, cold | \\delta_0
hot_gap_m | gap on the diameter, hot | \\delta_h
squeeze_m | squeeze on the diameter | \\delta
outer_per_k | expansion of the tube | \\alpha_o
inner_per_k | expansion of the plug | \\alpha_i
outer_rise_k | rise of the tube | \\Delta T_o
inner_rise_k | rise of the plug | \\Delta T_i
tube_pa | elastic modulus of the tube | E_o
plug_pa | elastic modulus of the plug | E_i
tube_poisson | Poisson's ratio of the tube | \\nu_o
plug_poisson | Poisson's ratio of the plug | \\nu_i
wall_ratio | shape of the wall | \\omega
tube_stiff_pa | stiffness of the tube against pressure | S_o
plug_stiff_pa | stiffness of the plug against pressure | S_i
pressure_pa | pressure of the fit | p_f
hoop_pa | hoop stress at the bore | \\sigma_h
stress_pa | stress | \\sigma_s
plug_m | diameter of the plug | D_p
wall_m | wall of the tube | s_t
screw_per_k | expansion of the screw | \\alpha_s
inside_m | growth of plug and screw | u_i
around_m | growth of the tube's outside | u_o
tightening_m | bite of the screw, hot | u_s
heater_c | hot end of the stem | T_h
melt_margin_k | smallest margin to melting | M_m
middle_m | diameter at the middle of the wall | D_{mid}
hole_m | diameter of the drill | d_h
holes | holes in one ring | n
hole_pitch_m | distance from hole to hole round the tube | p_h
hole_round_m | width of a hole along the curved wall | d_a
ring_spacing_m | distance from ring to ring | s_r
moment_m2 | pull of one hole on the heat around it | \\mu
neighbours | what the neighbouring holes add | \\nu
facing | what holes that face webs add | \\nu_f
shade | what holes behind holes take away | \\nu_s
extra_m | extra length of plain tube that the break is worth | \\Delta L
side_load_n | push from the side at the tip | F
arm_m | distance from the tip to the holes | a_h
section_modulus_m3 | section modulus of the whole tube | Z
net_share | bending strength that is left, as a share | \\eta_b
web_pa | bending stress in the webs | \\sigma_w
specific_gravity | specific gravity of the wood | G
moisture | moisture of the wood, share of its dry mass | M
moisture_lost | moisture lost | \\Delta M
shrink_per_moisture | shrinkage for each unit of moisture | C_t
closing_m | what the bore closes by | \\Delta d
finger_c | tube 10 mm before the handle | T_f
web_m | least metal between holes | w_{web}
yield_pa | yield stress | \\sigma_y
stiffness | stiffness left at the tip, as a share | \\chi
weaken_s | time until the wood is a tenth weaker | t_w
wood_years | years of use until the wood is a tenth weaker | t_{wood}
dry | moisture that the wood beside the tube comes to | M_h
closing | what the bore closes by, as a share | \\epsilon_b
first_rise_k | rise at the first time | \\theta_1
second_rise_k | rise at twice that time | \\theta_2
settled_rise_k | rise over the start, once settled | \\theta_e
step_s | time of the first reading | t_1
constant_s | time constant | \\tau
resistance_k_per_w | thermal resistance, kelvin for each watt | R_{th}
capacity_j_k | heat capacity | C
wanted_rise_k | wanted rise | \\Delta T^*
floor_s | shortest time, nothing lost | t_0
end_c | where the probe's place settles at full power, by the log | T_e
slow_s | slow time constant, by the log | \\tau_s
way_m | way from the winding to the joint | L_j
own_ohm | ohms of the coil's own wire over that way | R_{own}
tapped_v | open-circuit voltage of the tap | U_{0,t}
power_share | share of the full watts | s_P
series_ohm | resistor in the line | R_x
switch_v | volts that the switch or diode keeps | U_{sw}
lost | volts of the switch, as a share of the peak | x_u
flow_angle | part of the half wave that flows, as an angle | \\varphi
passed | share of the watts that the switch lets through | \\pi_u
mean_passed | mean current, as a share of the effective one | \\mu_u
duty | share of the time that is on | d_{on}
on_w | watts while on | P_{on}
moves | switching cycles that a contact lasts | n_c
window_s | window of the switching | t_{win}
contact_life_s | life of the contact | t_c
dead_s | dead time | t_d
fast_s | fast time constant | \\tau_f
lumped_s | time constant that stands for both | \\tau_1
delay_s | effective dead time | \\theta
closed_s | wanted time constant of the closed loop | \\tau_c
full_k | rise at full power | \\theta_{full}
gain_per_k | gain: share of full power for each kelvin | K_c
slow_integral_s | integral time | \\tau_I
set_c | set point | T_{set}
held_c | what is held, settled at the set point | T_{held}
hold_w | mean watts that hold it | P_{hold}
offset_k | what is held, over the reading | \\Delta T_{off}
stuck_c | what is held, with power stuck on | T_{stuck}
doubt_k | doubt of the reading | \\Delta T_d
spare_k | kelvin to spare on both sides of the cut-out | \\Delta T_r
"""
