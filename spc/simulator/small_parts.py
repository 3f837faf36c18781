"""Four small invented parts whose plans name their geometry: limits and first gain come from the drawing."""

from spc.simulator.cell import Feature, Part

__all__ = ["SMALL_PARTS"]

LOOK = Feature(
    "look", "visual", "", "look", pieces=1, answers=("ok", "flakes", "torn flank", "chip mark", "open crest")
)
SELDOM = ("first_off", "shift")

PW_22 = Part(
    id="PW-22",
    description="pump shaft, spline with 22 teeth and fixing thread on one slide",
    machine="R4",
    correction_travel_mm=0.045,
    pieces_per_hour=210,
    knee_thousand=16.0,
    batch_pieces=(2200, 3400),
    batch_sd_um=1.1,
    die_sets=("D-221", "D-222"),
    first_batch=5501,
    dwell_s=1.5,
    features=(
        Feature(
            "over_pin", "over_pin_diameter", "mm", "size", nominal=31.397, form="spline", gain_guess=0.88,
            minimum_cpk=1.33, master_size=31.395, sigma_um=2.4, gauge_sd_um=0.6, resolution_um=0.5, gain=0.87,
            wear_um_per_1000=1.5,
            tables=(
                "[characteristic.spline]", "module = 1.25", "teeth = 22", "pressure_angle_deg = 30",
                "pin_mm = 2.5", "tooth_thickness_lower_mm = 1.890", "tooth_thickness_upper_mm = 1.915",
            ),
        ),
        Feature(
            "over_wire", "over_wire_diameter", "mm", "size", nominal=20.223, form="thread", pieces=3,
            gain_guess=1.00, master_size=20.220, sigma_um=3.0, gauge_sd_um=0.8, resolution_um=1.0, gain=0.98,
            wear_um_per_1000=1.4,
            tables=(
                "[characteristic.thread]", "pitch_mm = 1.5", "major_diameter_mm = 20", 'class = "6g"',
            ),
        ),
        Feature(
            "runout", "runout", "mm", "magnitude", upper=0.035, form="spline", pieces=2, sigma_um=3.5,
            gauge_sd_um=0.6, resolution_um=1.0, base_um=3.5,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

AS_16 = Part(
    id="AS-16",
    description="adjusting screw, thread that starts at the flat",
    machine="R5",
    correction_travel_mm=0.030,
    pieces_per_hour=240,
    knee_thousand=14.0,
    batch_pieces=(2600, 3800),
    batch_sd_um=1.0,
    die_sets=("D-161", "D-162"),
    first_batch=6601,
    dwell_s=1.1,
    features=(
        Feature(
            "over_wire", "over_wire_diameter", "mm", "size", nominal=16.680, gain_guess=1.00,
            minimum_cpk=1.33, master_size=16.681, sigma_um=2.2, gauge_sd_um=0.6, resolution_um=0.5, gain=0.99,
            wear_um_per_1000=1.3,
            tables=(
                "[characteristic.thread]", "pitch_mm = 1.75", "included_angle_deg = 60", "wire_mm = 1.0",
                "major_diameter_mm = 16.4", "pitch_diameter_lower_mm = 15.180",
                "pitch_diameter_upper_mm = 15.210",
            ),
        ),
        Feature(
            "start", "start_angle", "deg", "direction", lower=-2.0, upper=2.0, pieces=3, sigma_um=0.35,
            gauge_sd_um=0.08, resolution_um=0.1, base_um=0.2, set_by="phase",
        ),
        Feature(
            "lead_error", "lead_deviation", "mm", "lead", lower=-0.015, upper=0.015, pieces=1, at=SELDOM,
            later=True, wears_with_die=True, sigma_um=1.2, gauge_sd_um=0.4, resolution_um=0.1,
            follows_wear=0.3, base_um=-2.0,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

GT_34 = Part(
    id="GT-34",
    description="guide tube, groove of changing lead and depth",
    machine="R6",
    correction_travel_mm=0.060,
    pieces_per_hour=120,
    knee_thousand=12.0,
    batch_pieces=(1200, 2000),
    batch_sd_um=1.0,
    die_sets=("D-341", "D-342"),
    first_batch=7701,
    dwell_s=0.8,
    features=(
        Feature(
            "depth_error", "groove_depth", "mm", "size", lower=-0.020, upper=0.020, gain_guess=-0.50,
            minimum_cpk=1.33, sigma_um=2.6, gauge_sd_um=0.8, resolution_um=1.0, gain=-0.52,
            wear_um_per_1000=-1.6,
            tables=(
                "[characteristic.groove]", "lead_mm = 16.0",
                "nominal_lead = [[0, 14.0], [40, 16.0], [80, 19.0]]",
                "nominal_depth = [[0, 1.200], [40, 1.350], [80, 1.200]]",
                "[characteristic.trace]", "useful_mm = [4, 76]",
            ),
        ),
        Feature(
            "travel_error", "mean_travel_deviation", "mm", "lead", lower=-0.030, upper=0.030, pieces=1,
            at=SELDOM, later=True, sigma_um=2.5, gauge_sd_um=0.6, resolution_um=0.1, base_um=3.0,
            tables=(
                "[characteristic.groove]", "lead_mm = 16.0",
                "nominal_lead = [[0, 14.0], [40, 16.0], [80, 19.0]]",
                "[characteristic.trace]", "useful_mm = [4, 76]",
            ),
        ),
        Feature(
            "runout", "runout", "mm", "magnitude", upper=0.050, pieces=2, sigma_um=5.0, gauge_sd_um=0.8,
            resolution_um=1.0, base_um=5.0,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

ST_05 = Part(
    id="ST-05",
    description="valve stem, straightened after rolling",
    machine="R7",
    correction_travel_mm=0.032,
    pieces_per_hour=280,
    knee_thousand=20.0,
    batch_pieces=(3000, 4600),
    batch_sd_um=0.8,
    die_sets=("D-051", "D-052"),
    first_batch=8801,
    dwell_s=0.6,
    features=(
        Feature(
            "over_wire", "over_wire_diameter", "mm", "size", nominal=5.473, gain_guess=1.00,
            minimum_cpk=1.33, master_size=5.4725, sigma_um=1.9, gauge_sd_um=0.5, resolution_um=0.5, gain=0.98,
            wear_um_per_1000=1.0,
            tables=(
                "[characteristic.thread]", "pitch_mm = 0.8", "included_angle_deg = 60", "wire_mm = 0.47",
                "major_diameter_mm = 5.3", "pitch_diameter_lower_mm = 4.740",
                "pitch_diameter_upper_mm = 4.770",
            ),
        ),
        Feature(
            "straightness", "straightness", "mm", "magnitude", upper=0.030, sigma_um=4.0, gauge_sd_um=0.8,
            resolution_um=1.0, base_um=4.0, set_by="blade",
            tables=("[characteristic.trace]", 'line = "minimum_zone"', "useful_mm = [3, 93]"),
        ),
        Feature(
            "runout", "runout", "mm", "magnitude", upper=0.050, pieces=2, sigma_um=6.0, gauge_sd_um=0.8,
            resolution_um=1.0, base_um=6.0,
        ),
        LOOK,
    ),
)  # fmt: skip  # a table of numbers reads better in rows

SMALL_PARTS = (PW_22, AS_16, GT_34, ST_05)
