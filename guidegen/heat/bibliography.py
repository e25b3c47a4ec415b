"""What the formulas cite: full titles by the keys that the modules here write beside their formulas.

These belong to the program, as the formulas do; what a workshop cites stands in its own `content/sources.yml`. Authors
and titles are from memory; the numbers taken from them are held against outside values in `tests/published`.
"""

from __future__ import annotations

TITLES: dict[str, str] = {
    "anzelius-1926": "A. Anzelius, Über Erwärmung vermittels durchströmender Medien, 1926",
    "astm-b75": "ASTM B75, Seamless copper tube",
    "beer-johnston": "F. P. Beer, E. R. Johnston and others, Mechanics of Materials",
    "carslaw-jaeger-1959": "H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, second edition, 1959",
    "chaloner-verdinelli-1995": "K. Chaloner and I. Verdinelli, Bayesian experimental design: a review, 1995",
    "churchill-chu-1975-cylinder": "S. W. Churchill and H. H. S. Chu, Correlating equations for laminar and turbulent "
    "free convection from a horizontal cylinder, 1975",
    "churchill-chu-1975-wall": "S. W. Churchill and H. H. S. Chu, Correlating equations for laminar and turbulent free "
    "convection from a vertical plate, 1975",
    "colebrook-1939": "C. F. Colebrook, Turbulent flow in pipes, with particular reference to the transition region "
    "between the smooth and rough pipe laws, 1939",
    "copper-board-tube-pressure": "A copper board, published questions and answers on the pressure of copper tube",
    "copper-facts": "A copper association's fact sheets, physical properties of copper",
    "copper-tube-handbook": "A copper association's handbook of copper tube, table of bend radii",
    "dean-1928": "W. R. Dean, The stream-line motion of fluid in a curved pipe, 1928",
    "en-1982": "EN 1982, Copper and copper alloys: ingots and castings, as a copper association reprints its table",
    "fieller-1954": "E. C. Fieller, Some problems in interval estimation, 1954",
    "fisher-1925": "R. A. Fisher, Statistical Methods for Research Workers, 1925",
    "fisher-1935": "R. A. Fisher, The Design of Experiments, 1935",
    "fed-std-h28": "FED-STD-H28, Screw-thread standards for federal services",
    "iapws-r7": "IAPWS R7-97(2012), Industrial formulation 1997 for the thermodynamic properties of water and steam",
    "iapws-sr6": "IAPWS SR6-08(2011), Thermodynamic properties of liquid water at 0.1 MPa",
    "iec-60584-1": "IEC 60584-1, Thermocouples, part 1: EMF specifications and tolerances",
    "iec-60751": "IEC 60751, Industrial platinum resistance thermometers and platinum temperature sensors",
    "incropera": "F. P. Incropera, D. P. DeWitt and others, Fundamentals of Heat and Mass Transfer",
    "iso-13528": "ISO 13528, Statistical methods for use in proficiency testing by interlaboratory comparison",
    "iso-13732-1": "ISO 13732-1, Human responses to contact with surfaces, part 1: hot surfaces",
    "iso-898-1": "ISO 898-1, Mechanical properties of fasteners made of carbon steel and alloy steel, part 1",
    "iso-iec-17043": "ISO/IEC 17043, Conformity assessment: general requirements for proficiency testing",
    "ito-1959": "H. Itō, Friction factors for turbulent flow in curved pipes, 1959",
    "jcgm-100": "JCGM 100:2008, Guide to the expression of uncertainty in measurement",
    "jcgm-101": "JCGM 101:2008, Propagation of distributions using a Monte Carlo method",
    "kotz-van-dorp-2004": "Kotz and van Dorp, Beyond Beta, World Scientific 2004",
    "joe-kuo-2008": "S. Joe and F. Y. Kuo, Constructing Sobol sequences with better two-dimensional projections, 2008",
    "levenspiel-1999": "O. Levenspiel, Chemical Reaction Engineering, third edition, 1999",
    "ljung-box-1978": "G. M. Ljung and G. E. P. Box, On a measure of lack of fit in time series models, 1978",
    "more-1978": "J. J. Moré, The Levenberg–Marquardt algorithm: implementation and theory, 1978",
    "mori-nakayama-1964": "Y. Mori and W. Nakayama, laminar flow and heat transfer in curved pipes, 1964",
    "mori-nakayama-1967": "Y. Mori and W. Nakayama, turbulent flow and heat transfer in curved pipes, 1967",
    "moritz-henriques-1947": "A. R. Moritz and F. C. Henriques, Studies of thermal injury, 1947",
    "nist-its90": "NIST, Thermocouple reference functions on the ITS-90",
    "nist-strd": "NIST, Statistical Reference Datasets",
    "ped-2014-68": "Directive 2014/68/EU on pressure equipment",
    "schmidt-1967": "E. F. Schmidt, Wärmeübergang und Druckverlust in Rohrschlangen, 1967",
    "schumann-1929": "T. E. W. Schumann, Heat transfer: a liquid flowing through a porous prism, 1929",
    "seth-stahel-1969": "K. K. Seth and E. P. Stahel, Heat transfer from helical coils immersed in agitated "
    "vessels, 1969",
    "shigley": "R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design",
    "spearman-1904": "C. Spearman, The proof and measurement of association between two things, 1904",
    "srinivasan-1970": "P. S. Srinivasan and others, Friction factors for coils, 1970",
    "student-1908": "Student, The probable error of a mean, 1908",
    "timoshenko-1956": "S. Timoshenko, Strength of Materials, part II, third edition, 1956",
    "uhlenbeck-ornstein-1930": "G. E. Uhlenbeck and L. S. Ornstein, On the theory of the Brownian motion, 1930",
    "us-standard-atmosphere-1976": "U.S. Standard Atmosphere, 1976",
    "van-leer-1977": "B. van Leer, Towards the ultimate conservative difference scheme, part IV, 1977",
    "venzon-moolgavkar-1988": "D. J. Venzon and S. H. Moolgavkar, A method for computing profile-likelihood-based "
    "confidence intervals, 1988",
    "vdi-2230-1": "VDI 2230 part 1, Systematic calculation of highly stressed bolted joints",
    "vdi-heat-atlas-2002": "VDI Heat Atlas, 2002",
    "white-1929": "C. M. White, Streamline flow through curved pipes, 1929",
    "white-2011": "F. M. White, Fluid Mechanics, seventh edition, 2011",
    "xin-ebadian-1997": "R. C. Xin and M. A. Ebadian, The effects of Prandtl numbers on local and average convective "
    "heat transfer characteristics in helical pipes, 1997",
}


class SourceLost(LookupError):
    """A formula cites a key that the bibliography does not have."""


def title_of(citation: str, formula: str) -> tuple[str, str, str]:
    """Key, title and place of a citation such as `white-2011, equation 6.13`.

    >>> title_of("white-2011, equation 6.13", "Friction")[2]
    'equation 6.13'
    >>> title_of("nobody-1900", "Friction")
    Traceback (most recent call last):
        ...
    guidegen.heat.bibliography.SourceLost: the formula "Friction" cites nobody-1900, which the bibliography lacks
    """
    key, _, place = citation.partition(", ")
    key = key.split(" (")[0]
    if key not in TITLES:
        raise SourceLost(f'the formula "{formula}" cites {key}, which the bibliography lacks')
    return key, TITLES[key], place
