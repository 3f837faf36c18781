"""Tolerances of travel by JIS B 1192 and ISO 3408-3 in µm: two standards, two tables.

JIS, series C: rows up to 800 mm read in a maker's public table, the longer ones from memory (two of their cells
read elsewhere). C2 and C8 are makers' additions. ISO, positioning P and transport T: mean deviation of P5 read as
the IT5 column of a public ISO 286 table, the rest from memory, single cells read on makers' public pages.
None: the standard has no figure there, or it is not known; which of the two is said in `travel_tolerances`.
"""

JIS_UP_TO_MM = (100, 200, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300)
JIS_ROWS_READ = 7
# grade: mean deviation ± of each row, variation over the useful travel of each row
JIS_BY_TRAVEL = {
    "C0": (
        (3, 3.5, 4, 5, 6, 6, 7, 8, 9, 11, None, None, None, None, None, None),
        (3, 3, 3.5, 3.5, 4, 4, 5, 6, 6, 7, None, None, None, None, None, None),
    ),
    "C1": (
        (3.5, 4.5, 6, 7, 8, 9, 10, 11, 13, 15, 18, 22, 26, 30, None, None),
        (5, 5, 5, 5, 5, 6, 7, 8, 9, 10, 11, 13, 15, 18, None, None),
    ),
    "C2": (
        (5, 7, 8, 9, 10, 11, 13, 15, 18, 21, 25, 30, 36, 44, 52, 65),
        (7, 7, 7, 7, 7, 8, 9, 10, 11, 13, 15, 18, 21, 25, 30, 36),
    ),
    "C3": (
        (8, 10, 12, 13, 15, 16, 18, 21, 24, 29, 35, 41, 50, 60, 72, 90),
        (8, 8, 8, 10, 10, 12, 13, 15, 16, 18, 21, 24, 29, 35, 41, 50),
    ),
    "C5": (
        (18, 20, 23, 25, 27, 30, 35, 40, 46, 54, 65, 77, 93, 115, 140, 170),
        (18, 18, 18, 20, 20, 23, 25, 27, 30, 35, 40, 46, 54, 65, 77, 93),
    ),
}
JIS_MEANS_READ_BEYOND = (("C3", 1000), ("C5", 1000))
JIS_MAKERS_ADDITIONS = ("C2", "C8")
JIS_300 = {"C0": 3.5, "C1": 5, "C2": 7, "C3": 8, "C5": 18, "C7": 50, "C10": 210}
JIS_300_READ = ("C1", "C3", "C5", "C7")
JIS_ERROR_300 = {"C7": 50, "C8": 100, "C10": 210}
JIS_2PI = {"C0": 3, "C1": 4, "C2": 5, "C3": 6, "C5": 8}

ISO_UP_TO_MM = (315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150)
ISO_MEAN = {
    "P0": (4, 5, 6, 6, 7, 8, 9, 11, None, None, None),
    "P1": (6, 7, 8, 9, 10, 11, 13, 15, 18, 22, 26),
    "P2": (8, 9, 10, 11, 13, 15, 18, 21, 25, 30, 36),
    "P3": (12, 13, 15, 16, 18, 21, 24, 29, 35, 41, 50),
    "P4": (16, 18, 20, 22, 25, 28, 33, 39, 46, 55, 68),
    "P5": (23, 25, 27, 32, 36, 40, 47, 55, 65, 78, 96),
}
ISO_VARIATION = {
    "P1": (6, 6, 7, 7, 8, 9, 10, 11, 13, 15, 17),
    "P3": (12, 12, 13, 14, 16, 17, 19, 22, 25, 29, 34),
    "P5": (23, 25, 26, 29, 31, 35, 39, 44, 51, 59, 69),
}
ISO_300 = {"P1": 6, "P2": 8, "P3": 12, "P4": 16, "P5": 23, "T7": 52, "T10": 210}
ISO_300_READ = ("P3", "P5", "T7")
ISO_2PI = {"P0": 3, "P1": 4, "P2": 5, "P3": 6, "P4": 7, "P5": 8}
ISO_READ_CELLS = (("mean", "P3", 1000), ("variation", "P5", 1000))

# lead, mm: least readings in 300 mm for grades 1, 3, 5, 7, 9 (DIN 69051-3 and ISO 3408-3 as a public catalogue of
# ball screws of 1999 excerpts them on its page 81, read); 0: none given
READING_GRADES = (1, 3, 5, 7, 9)
LEAST_READINGS = {
    2.5: (30, 20, 10, 5, 5),
    5.0: (15, 10, 6, 3, 3),
    10.0: (10, 5, 3, 1, 1),
    16.0: (8, 5, 3, 1, 1),
    20.0: (5, 5, 3, 1, 1),
    25.0: (4, 4, 3, 1, 1),
    32.0: (3, 3, 2, 1, 1),
    40.0: (0, 2, 1, 1, 1),
}
# lead, mm: largest excess travel at each end, mm (same page)
EXCESS_TRAVEL = {2.5: 10, 5.0: 20, 10.0: 40, 16.0: 50, 20.0: 60, 25.0: 70, 32.0: 80, 40.0: 100}
