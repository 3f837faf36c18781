"""Published single series used by several checks; where each comes from stands beside it."""

# Shapiro & Wilk, Biometrika 52 (1965): weights of 11 men (from memory)
WEIGHTS = [148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236]

# Montgomery, SQC, individuals example of the 2nd to 5th edition (from memory, reproduces the print)
_VISCOSITY = """
33.75 33.05 34.00 33.81 33.46 34.02 33.68 33.27 33.49 33.20 33.62 33.00 33.54 33.12 33.84
"""
VISCOSITY = [float(each) for each in _VISCOSITY.split()]

# Montgomery & Runger, Applied Statistics and Probability for Engineers, 3rd ed. (2003), Table 16-3 (opened)
_CHEMICAL = """
102.0 94.8 98.3 98.4 102.0 98.5 99.0 97.7 100.0 98.1 101.3 98.7 101.1 98.4 97.0 96.7 100.3 101.4 97.2
101.0
"""
CHEMICAL = [float(each) for each in _CHEMICAL.split()]

# NIST Statistical Reference Datasets, Mavro (from memory, reproduces the certified values)
_MAVRO = """
18 17 18 19 18 17 15 14 15 15 17 18 18 19 19 21 20 16 14 13 13 15 15 16 15
14 13 14 15 14 15 16 15 16 19 20 20 21 22 23 24 25 27 26 26 26 27 26 25 24
"""
MAVRO = [float(f"2.00{digits}") for digits in _MAVRO.split()]

# NIST Statistical Reference Datasets, NumAcc1, NumAcc3 and NumAcc4 (from memory)
NUMACC1 = [10000001.0, 10000003.0, 10000002.0]
NUMACC3 = [1000000.2] + [1000000.1, 1000000.3] * 500
NUMACC4 = [10000000.2] + [10000000.1, 10000000.3] * 500

# NIST Statistical Reference Datasets, SiRstv (opened; ships with the test data of a general library)
SIRSTV = [
    [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
    [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
    [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
    [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
    [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
]

# NIST Statistical Reference Datasets, Norris, pairs of y and x (opened; ships with a general library)
_NORRIS = """
0.1 0.2; 338.8 337.4; 118.1 118.2; 888.0 884.6; 9.2 10.1; 228.1 226.5; 668.5 666.3; 998.5 996.3; 449.1 448.6;
778.9 777.0; 559.2 558.2; 0.3 0.4; 0.1 0.6; 778.1 775.5; 668.8 666.9; 339.3 338.0; 448.9 447.5; 10.8 11.6;
557.7 556.0; 228.3 228.1; 998.0 995.8; 888.8 887.6; 119.6 120.2; 0.3 0.3; 0.6 0.3; 557.6 556.8; 339.3 339.1;
888.0 887.2; 998.5 999.0; 778.9 779.0; 10.2 11.1; 117.6 118.3; 228.9 229.2; 668.4 669.1; 449.2 448.9; 0.2 0.5
"""
NORRIS = [tuple(float(each) for each in pair.split()) for pair in _NORRIS.split(";")]

# Lieblein & Zelen, J. Res. NBS 57 (1956): ball-bearing lives, 1e6 revolutions (from memory, reproduces the print)
_BEARINGS = """
17.88 28.92 33.00 41.52 42.12 45.60 48.40 51.84 51.96 54.12 55.56 67.80 68.64 68.64 68.88 84.12 93.12
98.64 105.12 105.84 127.92 128.04 173.40
"""
BEARINGS = [float(each) for each in _BEARINGS.split()]

# Freireich 1963, quoted by Lawless: weeks of remission under 6-MP, + still in it
# (from memory, reproduces the print)
_SIX_MP = """
6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+
"""
SIX_MP = _SIX_MP.split()
