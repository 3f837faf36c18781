"""Four invented parts: what their plans say and how they truly behave. All numbers are made up."""

from spc.simulator.cell import Feature, Part

__all__ = ["DEMO_PARTS"]

LOOK = Feature(
    "look",
    "visual",
    "",
    "look",
    pieces=1,
    answers=("ok", "flakes", "torn flank", "chip mark", "open crest"),
)
SELDOM = ("first_off", "shift")

KS_24 = Part(
    id="KS-24",
    description="drive shaft, spline with 24 teeth",
    machine="R1",
    correction_travel_mm=0.045,
    pieces_per_hour=300,
    knee_thousand=16.0,
    batch_pieces=(2600, 4200),
    batch_sd_um=1.2,
    die_sets=("D-241", "D-242", "D-243"),
    first_batch=1101,
    dwell_s=1.4,
    costs=(1700, 2400, 12, 300),
    features=(
        Feature(
            "over_pin", "over_pin_diameter", "mm", "size", nominal=27.460, lower=27.445, upper=27.475,
            gain_guess=0.90, minimum_cpk=1.33, master_size=27.4585, sigma_um=2.1, gauge_sd_um=0.6,
            resolution_um=0.5, gain=0.90, wear_um_per_1000=1.55,
        ),
        Feature(
            "pitch_error", "pitch_deviation", "mm", "pitch", lower=-0.018, upper=0.018, pieces=1, at=SELDOM,
            later=True, sigma_um=1.6, gauge_sd_um=0.5, resolution_um=0.1, base_um=1.0,
        ),
        Feature(
            "runout", "runout", "mm", "magnitude", upper=0.030, pieces=2, sigma_um=3.0, gauge_sd_um=0.5,
            resolution_um=1.0, base_um=3.5,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

SW_32 = Part(
    id="SW-32",
    description="steering worm, one start",
    machine="R1",
    correction_travel_mm=0.032,
    pieces_per_hour=240,
    knee_thousand=9.5,
    batch_pieces=(2000, 3200),
    batch_sd_um=1.0,
    die_sets=("D-321", "D-326", "D-323"),
    first_batch=2201,
    dwell_s=2.0,
    costs=(1500, 2200, 14, 240),
    features=(
        Feature(
            "over_wire", "over_wire_diameter", "mm", "size", nominal=32.880, lower=32.8675, upper=32.8925,
            target=32.879, gain_guess=0.95, minimum_cpk=1.33, master_size=32.8805, sigma_um=1.9,
            gauge_sd_um=0.5, resolution_um=0.5, gain=0.92, wear_um_per_1000=2.3,
        ),
        Feature(
            "lead_error", "lead_deviation", "mm", "lead", lower=-0.012, upper=0.012, pieces=1, at=SELDOM,
            later=True, wears_with_die=True, sigma_um=1.0, gauge_sd_um=0.4, resolution_um=0.1,
            follows_wear=0.46, base_um=-2.0,
        ),
        Feature(
            "straightness", "straightness", "mm", "magnitude", upper=0.040, pieces=2, sigma_um=4.5,
            gauge_sd_um=0.8, resolution_um=1.0, base_um=5.0,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

KS_38 = Part(
    id="KS-38",
    description="hub shaft, spline with 38 teeth and fixing thread",
    machine="R2",
    correction_travel_mm=0.050,
    pieces_per_hour=180,
    knee_thousand=17.0,
    batch_pieces=(2200, 3600),
    batch_sd_um=1.3,
    die_sets=("D-381", "D-382", "D-383"),
    first_batch=3301,
    dwell_s=1.6,
    costs=(1900, 2700, 18, 180),
    features=(
        Feature(
            "over_pin", "over_pin_diameter", "mm", "size", nominal=44.260, lower=44.240, upper=44.280,
            form="spline", gain_guess=0.90, minimum_cpk=1.33, master_size=44.262, sigma_um=2.5,
            gauge_sd_um=0.8, resolution_um=1.0, gain=0.88, wear_um_per_1000=1.6,
        ),
        Feature(
            "over_wire", "over_wire_diameter", "mm", "size", nominal=38.915, lower=38.885, upper=38.945,
            form="thread", pieces=3, gain_guess=1.00, master_size=38.910, sigma_um=3.0, gauge_sd_um=0.8,
            resolution_um=1.0, gain=0.98, wear_um_per_1000=1.5,
        ),
        Feature(
            "pitch_error", "pitch_deviation", "mm", "pitch", lower=-0.022, upper=0.022, form="spline",
            pieces=1, at=SELDOM, later=True, sigma_um=2.0, gauge_sd_um=0.6, resolution_um=0.1, base_um=-1.0,
        ),
        Feature(
            "runout", "runout", "mm", "magnitude", upper=0.040, form="spline", pieces=1, sigma_um=4.0,
            gauge_sd_um=0.6, resolution_um=1.0, base_um=4.0,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

BG_21 = Part(
    id="BG-21",
    description="ball-screw shaft, through-feed",
    machine="R3",
    correction_travel_mm=0.036,
    pieces_per_hour=90,
    knee_thousand=6.5,
    batch_pieces=(900, 1500),
    batch_sd_um=0.9,
    die_sets=("D-211", "D-213", "D-214"),
    first_batch=4401,
    dwell_s=0.0,
    costs=(2400, 3100, 45, 90),
    features=(
        Feature(
            "over_ball", "over_ball_diameter", "mm", "size", nominal=21.080, lower=21.070, upper=21.090,
            gain_guess=0.85, minimum_cpk=1.33, master_size=21.0795, sigma_um=1.5, gauge_sd_um=0.5,
            resolution_um=0.5, gain=0.85, wear_um_per_1000=2.9,
        ),
        Feature(
            "lead_error", "lead_deviation", "um", "lead", lower=-23.0, upper=23.0, pieces=1, at=SELDOM,
            later=True, wears_with_die=True, sigma_um=2.2, gauge_sd_um=0.6, resolution_um=0.1,
            follows_wear=0.30, base_um=-2.0,
        ),
        Feature(
            "straightness", "straightness", "mm", "magnitude", upper=0.060, pieces=3, sigma_um=7.0,
            gauge_sd_um=1.0, resolution_um=1.0, base_um=8.0,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

DEMO_PARTS = (KS_24, SW_32, KS_38, BG_21)
