"""Groups of values published for comparisons; sources beside them."""

from published_tables import subgroups


def rows(text: str) -> list[list[float]]:
    """One group a line or between bars."""
    return [[float(value) for value in line.split()] for line in text.replace("|", "\n").strip().splitlines()]


# NIST e-Handbook 7.3.1 (section opened, data from memory, reproduce the print): old and new assembly times
ASSEMBLY = rows("32 37 35 28 41 44 35 31 34 38 42 | 36 31 30 31 34 36 29 32 31")
# NIST e-Handbook 7.4.3 (from memory, reproduces the print)
THREE_LEVELS = rows("6.9 5.4 5.8 4.6 4.0 | 8.3 6.8 7.8 9.2 6.5 | 8.0 10.5 8.1 6.9 9.3")
# NIST e-Handbook, GEAR.DAT
GEARS = subgroups("nist_gear_diameters")
# NIST StRD SiRstv, certified to 15 digits (opened)
SIRSTV = rows(
    """196.3052 196.1240 196.1890 196.2569 196.3403
    196.3042 196.3825 196.1669 196.3257 196.0422
    196.1303 196.2005 196.2889 196.0343 196.1811
    196.2795 196.1748 196.1494 196.1485 195.9885
    196.2119 196.1051 196.1850 196.0052 196.2090"""
)
# R's built-in sets sleep and PlantGrowth (from memory, reproduce R's own output)
SLEEP = rows("0.7 -1.6 -0.2 -1.2 -0.1 3.4 3.7 0.8 0.0 2.0 | 1.9 0.8 1.1 0.1 -0.1 4.4 5.5 1.6 4.6 3.4")
PLANTS = rows(
    """4.17 5.58 5.18 6.11 4.50 4.61 5.17 4.53 5.33 5.14
    4.81 4.17 4.41 3.59 5.87 3.83 6.03 4.89 4.32 4.69
    6.31 5.12 5.54 5.50 5.37 5.29 4.92 6.15 5.80 5.26"""
)
# Davies & Goldsmith, Statistical Methods in Research and Production, 4th ed. 1972, Table 6.1 (from memory)
DYESTUFF = rows(
    """1545 1440 1440 1520 1580
    1540 1555 1490 1560 1495
    1595 1550 1605 1510 1560
    1445 1440 1595 1465 1545
    1595 1630 1515 1635 1625
    1520 1455 1450 1480 1445"""
)
# Pinheiro & Bates, Mixed-Effects Models in S and S-PLUS, Springer 2000 (from memory)
RAIL = rows("55 53 54 | 26 37 32 | 78 91 85 | 92 100 96 | 49 51 50 | 80 85 83")
