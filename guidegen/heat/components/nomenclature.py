"""The symbols that the components' equations share."""

from __future__ import annotations

from guidegen.heat.formula import Symbol

_T = "temperature of "
SYMBOLS = (
    Symbol("Te, Tb, Tg, Ts", _T + "heater element, boiler metal, group, sensor", "K"),
    Symbol("W, W_i, W_M", _T + "the boiler's water: mean, cell i of M mixed cells in series, and the last", "K"),
    Symbol("W_before", _T + "what flows into cell i: the feed or the coil's outlet, then the cell before", "K"),
    Symbol("X_j, Y_j, Y", _T + "water and metal in the coil's cell j of N, and mean of the metal", "K"),
    Symbol("Y_before, Y_after", _T + "the metal beside it; at an end the cell's own", "K"),
    Symbol("F_before, F_after", _T + "the water that passes the borders of cell j", "K"),
    Symbol("Tcase, Troom", _T + "the air in the case and of the room", "K"),
    Symbol("C_e, C_b, C_w, C_g, C_c, C_x, C_y",
           "heat capacities of element, boiler, its water, group, case with its air, coil water and metal", "J/K"),
    Symbol("q", "heater power", "W"),
    Symbol("ṁ, ṁ_r", "drawn mass flow, and what returns to the tank behind the coil", "kg/s"),
    Symbol("c", "specific heat of water, 4190", "J/(kg·K)"),
    Symbol("s", "share of the boiler's skin under a coil", ""),
    Symbol("G_ij", "conductance from i to j: e element, b boiler, w water, g group, a air, c coil, i inside", "W/K"),
    Symbol("G_ba, G_ca, G_ga, G_cr",
           "from boiler and coil (of the metal's mean temperature) to the case's air, from group and case to the room, "
           "as they follow temperature", "W/K"),
    Symbol("UA_g", "conductance from the water that passes to the group", "W/K"),
    Symbol("τ_s, a", "lag of the sensor, and the share of boiler metal in what it sees", "s, –"),
)  # fmt: skip
