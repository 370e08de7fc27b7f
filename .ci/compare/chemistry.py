"""Ammonia, carbonate and oxygen in water, by PHREEQC and the Gibbs SeaWater library.

Every function takes the inputs of a question and returns for each output the
value, the published accuracy of the formula in the value's unit (0 where the digits
shown decide), and where that accuracy is stated.
"""

import functools
import math

import gsw
from fluids import ATMOSPHERE_1976
from phreeqpython import PhreeqPython

RANGE = object()  # in place of an accuracy: the range shown

ATMOSPHERE = 101.325  # kPa
OXYGEN = 31.9988  # g/mol
DIOXIDE = 44.0095  # g/mol

# Ammonium and ammonia for the Pitzer database, which lacks them: the constant is
# that of phreeqc.dat; what ammonium has to do with chloride is in Pitzer and Mayorga
# 1973, table I; ammonia with sodium in Clegg and Brimblecombe 1989 (from memory).
AMMONIA = """
SOLUTION_MASTER_SPECIES
    Amm AmmH+ 0 AmmH 17.031
SOLUTION_SPECIES
    AmmH+ = AmmH+
        -log_k 0
    AmmH+ = Amm + H+
        -analytic 0.6322 -0.001225 -2835.76
PITZER
-B0
    AmmH+ Cl- 0.0522
-B1
    AmmH+ Cl- 0.1918
-C0
    AmmH+ Cl- -0.00301
-LAMDA
    Amm Na+ 0.0175
END
"""

# phreeqc.dat with ions that do not feel each other: the calculator says that it
# leaves other salts out. The constants stay those of the database.
THIN = """
SOLUTION_SPECIES
    H+ = H+
        -gamma 1e9 0
    H2O = OH- + H+
        -analytic 293.29227 0.1360833 -10576.913 -123.73158 0 -6.996455e-5
        -gamma 1e9 0
    CO3-2 = CO3-2
        -gamma 1e9 0
    CO3-2 + H+ = HCO3-
        -analytic 107.8871 0.03252849 -5151.79 -38.92561 563713.9
        -gamma 1e9 0
    CO3-2 + 2 H+ = CO2 + H2O
        -analytic 464.1965 0.09344813 -26986.16 -165.75951 2248628.9
        -gamma 1e9 0
END
"""


@functools.cache
def phreeqc(database, more):
    program = PhreeqPython(database=database)
    if more:
        program.ip.run_string(more)
    return program


def ammonia(given, limits):
    """Un-ionised ammonia, in pond salt taken as sodium chloride.

    pH stands for the amount of hydrogen ions, as it does in the calculator's formula
    and in tables of the constant for salt water.
    """
    t, salinity = given["temperature"], given["salinity"]
    salt = salinity / 58.443 / (1 - salinity / 1000) + 1e-6  # mol in a kilogram of water
    with_salt = phreeqc("pitzer.dat", AMMONIA).add_solution(
        {"temp": t, "pH": 7, "units": "mol/kgw", "Na": salt, "Cl": f"{salt} charge", "Amm": 1e-9})
    species = with_salt.species
    constant = species["Amm"] * species["H+"] / species["AmmH+"]
    with_salt.forget()
    share = constant / (constant + 10 ** -given["ph"])
    accuracy, source = 0, ""
    if salinity > 0:
        accuracy, source = 0.05, "5 % of the constant in salt water (Clegg and Whitfield 1995)"
    total = given["tan"]

    def off(value, part):
        return value, accuracy * part * value, source

    # An error of the constant moves the share less the nearer it is to all.
    return {
        "share": off(100 * share, 1 - share),
        "toxic": off(total * share, 1 - share),
        "ionised": off(total * (1 - share), share),
        "highest-total": off(limits["highest-total"] / share, 1 - share),
    }


def carbonate(given, _):
    """Free carbon dioxide, with ions that do not feel each other, as the formula has
    it; and with ions that do, of sodium bicarbonate, which has to lie in the range
    that the calculator shows for the errors of the kits."""
    def dioxide(program, **cation):
        water = program.add_solution(
            {"temp": given["temperature"], "pH": given["ph"], "units": "mmol/kgw", "Alkalinity": given["alkalinity"] / 50.0435, **cation})
        amount = 1000 * DIOXIDE * water.species["CO2"]
        water.forget()
        return amount

    salted = dioxide(phreeqc("phreeqc.dat", ""), Na=f"{given['alkalinity'] / 50.0435} charge")
    return {
        "carbon-dioxide": (dioxide(phreeqc("phreeqc.dat", THIN)), 0, ""),
        "carbon-dioxide, salts felt": (salted, RANGE, "the range shown, of kits of pH and KH (common practice)"),
    }


def vapour(t, salinity):
    """Pressure of water vapour in atmospheres (Weiss and Price 1980, equation 10)."""
    kelvin = t + 273.15
    return math.exp(24.4543 - 67.4509 * 100 / kelvin - 4.8489 * math.log(kelvin / 100) - 0.000544 * salinity)


def saturation(t, salinity, pressure):
    """Oxygen in mg/L under air of a pressure in kPa.

    Garcia and Gordon's fit of 1992 by gsw, the density by gsw, and Henry's law for
    what the pressure is beside the vapour's.
    """
    absolute = salinity * 35.16504 / 35  # gsw, reference composition
    per_kilogram = gsw.O2sol_SP_pt(salinity, t) * OXYGEN / 1000
    standard = per_kilogram * gsw.rho_t_exact(absolute, t, 0) / 1000
    wet = vapour(t, salinity)
    return float(standard * (pressure / ATMOSPHERE - wet) / (1 - wet))


def pressure_at(altitude):
    """Air pressure in kPa at an altitude in metres."""
    return ATMOSPHERE_1976(altitude).P / 1000


def oxygen(given, _):
    pressure = given.get("pressure") or pressure_at(given["altitude"])
    full = saturation(given["temperature"], given["salinity"], pressure)
    return {"saturation": (full, 0, ""), "pressure": (pressure, 0, ""), "percent": (100 * given["reading"] / full, 0, "")}
