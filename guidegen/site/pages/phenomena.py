"""The methods in the order in which they follow from each other: words, then formula modules.

The ids are those that `terms.Term.method` names, so that every number leads to the section that explains it.
"""

from __future__ import annotations

from dataclasses import dataclass

from guidegen.language import marked


@dataclass(frozen=True)
class Phenomenon:
    """One section of the methods: what is done, in words, and where its formulas are."""

    id: str
    title: str
    text: tuple[str, ...]
    modules: tuple[str, ...] = ()


PHENOMENA = (
    Phenomenon(
        "network", "The machine as a network",
        ("A machine is a handful of places that store heat, and the paths along which heat flows between them. A kit "
         "is a set of changes to that network. The same questions are asked of the network without and with the kit.",
         "The coil is a battery of hot water, not a heat exchanger: at the flow of a drink its water stays in it for "
         "too short a time to be warmed on the way. The copper helps: it gives its own heat to the cold water that "
         "follows, so that more hot water comes out than the coil holds.",
         "The coil's water and metal are divided into 48 cells along the flow, because one mixed vessel would "
         "smear the cold front. Heater energy and every loss are integrated too, so what went in, what went out "
         "and what is stored can be checked against each other in every run."
         ),
        (
            "components.element", "components.boiler", "components.water", "components.group", "components.coil",
            "components.case", "components.sensor", "water", "water_transport",
        ),
    ),
    Phenomenon(
        "losses", "Losses, and the air in the case",
        (
            "Boiler and coil warm the air in the case and the sheet metal that warms with it, and these lose heat "
            "to the room. So the case is as warm as the machine makes it: cold in the morning, warmer under a coil "
            "that gives off more than the skin it covers, and cooling as the machine cools.",
         "What boiler, group and coil lose is stated per kelvin, of the warm machine at rest and without a kit, and so "
         "is how warm its case then is; what the case loses to the room follows from both. Natural convection and "
         "radiation say how these losses change where skin or air are warmer or cooler than that: less than in "
         "proportion while all is cold, more at steam. Only the change is taken from them, so it hardly matters that "
         "typical sizes are used (a wall 8 cm high, tube of 8 mm, a case 30 cm high) and emissivities of tarnished "
         "metal. How much heat the case takes up nobody has measured: it is an uncertain input.",
         "Along a coil, the conductance is taken at its mean temperature."),
        ("losses", "surface"),
    ),
    Phenomenon(
        "shot", "A shot, and the next one",
        (
            "A shot starts from the warm, idle machine: the control's integral term is at its idle value. Starting "
            "it at zero would make every drop look too deep.",
         "How far the sensor drops is mostly a matter of the control's gain and of where the sensor sits. The "
         "ratio of the two drops is far better known than either of them, because most of what we do not know "
         "moves both.",
         "How well the boiler stirs decides what leaves the group, and nobody knows it without a probe at the outlet. "
         "It is an uncertain input from one mixed cell to ten. So outlet curves are bands, and no headline rests on "
         "them."),
        ("shot", "setpoint", "mixing", "heat_transfer"),
    ),
    Phenomenon(
        "thermostat", "Controls, and a thermostat's cycle",
        (
            "A thermostat opens above one temperature and closes below another, so the idle machine swings. What a "
            "shot does depends on when in the cycle you pull it. That is not an uncertainty about the machine: "
            "idle values are means over whole cycles, and the drop of a drink is the one expected over the cycle, "
            "with the best "
         "and the worst start of one machine beside it. Recoveries, second drinks and the drink after a flush "
         "start from one moment of the cycle in each draw, so their ranges hold both spreads. The moment of each "
         "switching is located inside the time step. A coil does not narrow the swing at idle.",),
        ("components.controller", "idle"),
    ),
    Phenomenon(
        "warm-up", "From cold",
        (
            "The cold machine starts at room temperature with the control's integral term at zero; while the "
            "heater is at its limit the integral is held, because it would otherwise feign a long warm-up. Shot "
            "ready is the earliest start whose "
         "sensor drop is within a tenth of that of a fully soaked machine, and stays so.",),
        ("warming",),
    ),
    Phenomenon(
        "energy", "Energy",
        ("Idle power is the mean heater power of the machine at rest. A session is the stated usage from a cold start. "
         "How much more a coil takes depends above all on how much of the boiler's skin it shields; between the ends "
         "of what is plausible the difference changes tenfold.",),
        ("program",),
    ),
    Phenomenon(
        "budget", "Mass and heat",
        ("What a drink takes out can be given as a share of the mass or of the heat capacity. A gram of water holds "
         "ten times the heat of a gram of brass, so the share of the mass makes a drink look several times smaller "
         "than it is. Both are shown.",),
    ),
    Phenomenon(
        "coil", "The coil's geometry",
        ("Length, turns, layers and height follow from the tube, the boiler and the water that the coil is to hold. "
         "Geometry decides whether it goes on, or by how much it misses. A second layer does not touch the boiler; "
         "only the inner layer counts for contact.",
         "Parked water is what rests in the coil of a warm machine: between the boiler's temperature and the case's, "
         "nearer to the one it is better connected to. A parked temperature far below the boiler's has three "
         "explanations, and only a logged run tells them apart."),
        ("coil", "bend", "cuts"),
    ),
    Phenomenon(
        "hydraulics", "Pressure loss",
        (
            "Flow in a coiled tube stays laminar to a higher speed, and loses more pressure, than in a straight "
            "one. The published limits "
         "differ by half; the one used is named.",),
        ("friction", "hydraulics"),
    ),
    Phenomenon(
        "pressure", "Allowable pressure",
        ("For straight, new, annealed tube at the hottest the coil gets. Bends are to be derated and joints tested.",
         "Where something is cut off the boiler, the wall that remains must carry the highest pressure at which the "
         "relief valve may open, at the hottest the boiler gets, with the stress that the weakest usual alloy of its "
         "metal is allowed. A tolerance is added, and nothing below 1 mm is accepted."),
        ("pressure", "vessel"),
    ),
    Phenomenon(
        "closed-coil", "The closed coil",
        (
            "Water expands as it warms up. What boiler and coil can no longer hold is pushed out each time the "
            "machine is switched on: into the tank, where the relief valve opens, or through the group. It is "
            "counted from room to idle temperature; the metal expands too, which takes about a tenth off.",
         "Where something closes both ends of the coil, its water cannot leave. Then only its own compressibility and "
         "the tube give way, and the pressure climbs by bars for every kelvin. The tube is taken as straight, full of "
         "water without air, and nothing else as elastic: a hose or a bubble makes it slower, and a bend, a joint "
         "or a dent may give way before the tube yields. The yield stress is the lowest of its softest temper.",
         "What opens first follows from the machine's water path. A relief valve counts only if nothing that can "
         "close sits between it and the coil. That it opens at the stated pressure is not a result of this "
         "computation: an old valve may stick. So it is tried on the machine itself, in the first heat, and not "
         "assumed."
         ),
        ("closed",),
    ),
    Phenomenon(
        "steam", "After steam",
        ("Steam itself is not modelled. The boiler is taken as full of water at the steam setpoint, which makes the "
         "flush an upper bound, and is then left alone or flushed until the sensor is back.",),
        ("steam",),
    ),
    Phenomenon(
        "cool-down", "Cooling down",
        ("The slowest cooling that the inputs' ends allow: small losses, large capacities, a warm room. The case cools "
         "with the machine, and what is only a little warmer than its air loses least per kelvin. It is an upper "
         "bound for planning. A contact thermometer decides, and neither says that the pressure is gone.",),
        ("cooling", "burns"),
    ),
    Phenomenon(
        "screws", "Screws",
        ("Torques are taken from tables that name thread, class and friction; two published tables "
         "differ by an eighth, so no torque is known better than that.",
         "No torque is printed that could be more than 90 % of the screw's yield, 75 % of what strips the hole, or "
         "75 % of what twists a hollow neck off, taking the lowest usual friction and strength. Its tolerance is "
         "included.",
         ),
        ("threads", "tightening"),
    ),
    Phenomenon(
        "ranges", "Ranges, and what matters most",
        ("Every uncertain input is drawn 2,048 times by default, the same draws without and with the kit. A figure is "
         "the median of the results, its range holds the middle 95 % of them. Differences and ratios are taken within "
         "each draw. What takes longer than the computed time counts as the longest. What a result depends on is "
         "the rank correlation of each input with it.",
         "What was measured with its ± is drawn from a normal distribution, a value between ends from a triangular "
         "one, by its logarithm where one end is more than five times the other, and anything else uniformly "
         "between its ends (JCGM 101, 6.4); the data may say otherwise.",
         "Curves need one machine: the draw whose headline figures lie nearest their medians.",
         "While the inputs that matter most are assumed, it is a range from our assumptions and nothing more. A "
         "ratio or an addition whose range reaches from less to more is printed as its range alone: its middle "
         "decides nothing.",
         "Numbers in one column or row all have the decimals that the least certain of them allows, two digits of "
         "the uncertainty at most (JCGM 100, 7.2.6). Other pages give differences in degrees; this one and the "
         "page of numbers give them in kelvin."
         ),
        ("statistics", "calibration"),
    ),
    Phenomenon(
        "worth", "Whether it is worth it",
        ("That a kit fits does not mean that anybody would notice. So the expected drops of the main drink without "
         "and with the kit are compared in each draw, r being their ratio and d how much less it drops, and the "
         "first of these that holds is printed. It may make it worse: d is −0.5 K or less in 10 % of the draws or "
         "more. Clearly better: r is 0.7 or less and d 1 K or more in 95 %. A little better: d is 0.5 K or more in "
         "80 %. Nothing one could measure: d is smaller than 0.5 K either way in 80 %. Otherwise nobody can tell "
         "until somebody measures. A workshop may set other limits (worth: in content/workshop.yml); each record "
         "says which it was judged by.",
         "Half a kelvin is the least one can see: a sensor on the boiler is read to a few tenths, and a drop is "
         "the difference of two readings (common practice, no source). A kelvin and three tenths of the drop "
         "together are more than anybody overlooks, on a machine that drops a lot and on one that drops little. "
         "One draw in ten is enough for a warning, because nobody should lose by a change they paid for; a promise "
         "needs nineteen in twenty; anything in between needs four in five. The shares are shares of the draws, so "
         "they are only as good as the assumptions.",
         "No limit is set on the outlet, because nobody has measured one."),
        (),
    ),
    Phenomenon(
        "sensors", "What a maker measures with", ("A probe lags behind what it measures; correcting for the lag makes "
                                                  "noise larger, so readings are smoothed first.",
                                                  "A probe of a class may be off by its tolerance; which of several "
                                                  "probes is off, and which way, nobody knows before it is checked in "
                                                  "ice or boiling water. Runs before and after are compared in pairs."),
        ("sensors", "paired"),
    ),
    Phenomenon(
        "measured", "Measured on a machine",
        ("A logged shot gives the same figures as a computed one, by the same definitions. The start is read from the "
         "seconds before the shot, the lowest value from a parabola through the rows around it, and what the "
         "probe's lag hides is added.",
         "A figure is the mean of several shots. Its interval of 95 % holds how far they scatter, how far the probe's "
         "class lets a difference of two readings be off, how well its lag is known, and how often it was read. What "
         "all shots share, such as the probe, does not become smaller by repeating.",
         "Before and after are compared only between shots of one block: on one machine, with the same feed, five "
         "blocks or more. Their difference has Student's interval, and how often chance alone would give one as large "
         "is counted over every exchange of the two within blocks; their ratio has Fieller's interval.",
         "Against the computation, what is left open on both sides counts: of the measured figure its interval, of the "
         "computed one the half of its range that faces the measured. The difference over both together is the "
         "normalised error; beyond ±1 the two disagree, and the guide says so. Computed curves go through the same "
         "probe's lag, from where the measured one starts."),
        ("logged", "evaluation"),
    ),
    Phenomenon(
        "learned", "What runs teach",
        ("The computed machine is fitted to the logged runs of one. What the ranges said before is the prior of every "
         "input; what probes and drinks leave open is fitted with them. Residuals that follow each other count for "
         "less than as many that do not.",
         "An input is learned only if its interval of 95 % at least halves, if it does not move with another, and if a "
         "probe was where it can be seen. From the boiler's own sensor alone nothing about contact or mixing is "
         "claimed: several things make it look alike.",
         "Each run is predicted from the others before it is used. Which runs would teach most is worked out the same "
         "way, before anybody has made them."),
        ("learning", "residuals", "repeats", "planning"),
    ),
)  # fmt: skip

NOT_MODELLED = (
    marked("Boiling and steam."),
    marked("When water is pushed out during a warm-up, and the heat that it carries away."),
    marked("The air in the case from place to place, and draughts through it: it has one temperature, which changes."),
    marked("Heat taken up by the puck, and given by the pump."),
    marked("Scale."),
    marked(
        "Mixing inside the boiler beyond a number of cells: statements about the outlet need a measurement of the "
        "outlet."
    ),
    marked("Sampling of the control: it is continuous in the model."),
)

HONEST = (
    marked(
        "No log of a real machine was at hand when the model was made. Plausible parameters were chosen "
        "with common practice in view: with an electronic control and no coil the sensor drops about 4 K when 50 g "
        "are drawn in 28 s; with a coil that holds about nine tenths of the boiler's water, about 1 K; parked water "
        "stands near 75 °C; warm-up takes five to ten minutes longer and energy is 5 to 10 % more. That the model "
        "lands there is not validation."
    ),
    marked(
        "The tests solve the same equations with an independent solver. Agreement rules out blunders and proves "
        "nothing about machines."
    ),
    marked(
        "A maker can replace assumption by measurement: a scale for masses and volumes, a power meter for idle "
        "and session, a logger at 1 Hz or faster for sensor, coil outlet, group and case. A cold start, an idle "
        "hour, a cooling with the power off and one long draw settle most of what is assumed here."
    ),
)
