"""One sound call of each public function of the room, for tests that spoil them."""

from typing import Any

import numpy as np

import spc.statistics as room
from spc.statistics import GaugeReading, fit_model, rule_set

__all__ = ["GOOD"]

RANDOM = np.random.default_rng(20)
CHECKS = RANDOM.normal(10.0, 0.1, (12, 4)).tolist()
SIZES = RANDOM.rayleigh(3.0, (12, 4)).tolist()
PIECES = [value for check in CHECKS for value in check]
LIVES = [value for check in SIZES for value in check]
WEIBULL = fit_model(LIVES, "weibull")
RULES = rule_set("house")
STUDY = [
    GaugeReading(person, f"part {part}", 10.0 + part + RANDOM.normal(0.0, 0.1))
    for part in range(5)
    for person in ("Ann", "Bo")
    for _ in range(3)
]
GROUPS = {"day": CHECKS[:6], "night": CHECKS[6:]}
LIMITS = {"lower": 9.0, "upper": 11.0}
LAW = {"shift_sigma": 1.0, "drift_sigma": 0.0}
MASTER = RANDOM.normal(10.0, 0.01, 20).tolist()
OF_GROUPS = {"groups": [PIECES[:15], PIECES[15:30], PIECES[30:]]}
FACTOR = {"n": 20, "share": 0.95, "confidence": 0.95}
FOUND = room.capability(CHECKS, 9.0, 11.0)

GOOD: dict[str, dict[str, Any]] = {
    "c4": {"n": 5},
    "d2": {"n": 5},
    "range_point": {"chance": 0.99, "n": 5},
    "d3": {"n": 5},
    "d4": {"n": 5},
    "control_factors": {"n": 5},
    "summarise_subgroups": {"subgroups": CHECKS},
    "limits_from_sigma": {"centre": 10.0, "sigma": 0.1, "n": 5},
    "xbar_r_limits": {"subgroups": CHECKS},
    "xbar_s_limits": {"subgroups": CHECKS},
    "median_r_limits": {"subgroups": CHECKS},
    "individuals_limits": {"readings": PIECES},
    "ewma_limits": {
        "subgroups": CHECKS,
        "target": 10.0,
        "sigma": 0.1,
        "weight": 0.2,
        "width": 3.0,
        "narrow_start": 0.5,
    },
    "cusum_limits": {
        "subgroups": CHECKS,
        "target": 10.0,
        "sigma": 0.1,
        "slack": 0.5,
        "decision": 5.0,
        "head_start": 0.5,
    },
    "chart_signals": {"limits": room.xbar_r_limits(CHECKS), "rules": RULES},
    "points_beyond": {"points": PIECES, "lower": 9.8, "upper": 10.2},
    "standardised": {"points": PIECES, "centre": 10.0, "upper": 10.3, "width": 3.0},
    "find_runs": {"z": [0.1, 3.2, -0.4], "rules": RULES},
    "last_point_findings": {"z_window": [0.1, -0.4, 3.2], "rules": RULES},
    "longest_window": {"rules": RULES},
    "rule_set": {"name": "house"},
    "rules_law": {"rules": RULES[:2], **LAW},
    "shewhart_law": {**LAW, "width": 3.0},
    "ewma_law": {
        **LAW,
        "weight": 0.2,
        "width": 2.8,
        "limits": "constant",
        "head_start": 0.2,
        "narrow_start": 1.0,
    },
    "cusum_law": {**LAW, "slack": 0.5, "decision": 4.0, "head_start": 0.2},
    "design_ewma": {"arl0": 100.0, "weight": 0.5, "limits": "constant"},
    "design_cusum": {"arl0": 100.0, "slack": 0.5, "head_start": 0.2},
    "plan_promise": {"n": 5, "sigma_um": 5.0, "step_um": 5.0, "drift_um_per_check": 0.1, "level": 0.95},
    "capability": {"subgroups": CHECKS, **LIMITS, "target": 10.0, "confidence": 0.95},
    "honest_capability": {"subgroups": CHECKS, **LIMITS, "target": 10.0, "confidence": 0.95},
    "normal_quantiles": {"mean": 10.0, "sigma": 0.1},
    "fallout_ppm": {"mean": 10.0, "sigma": 0.1, "lower": 9.0, "upper": 11.0},
    "fallout_interval": {
        "mean": 10.0,
        "sigma": 0.1,
        **LIMITS,
        "n": 40,
        "parts": [(0.5, 11.0), (0.5, 36.0)],
        "error": 0.02,
        "confidence": 0.95,
    },
    "fallout_says": {"fallout": FOUND.fallout},
    "anderson_darling": {"readings": PIECES},
    "gauge_study": {"readings": STUDY, "tolerance": 2.0, "pool_above": 0.25, "level": 0.95},
    "average_range_study": {"readings": STUDY},
    "single_appraiser_study": {"parts": CHECKS, "tolerance": 2.0},
    "master_repeats": {
        "readings": MASTER,
        "reference": 10.0,
        "tolerance": 1.0,
        "share": 0.2,
        "spread": 6.0,
        "level": 0.95,
    },
    "gauge_linearity": {"references": [1.0, 2.0, 3.0, 4.0], "readings": [1.1, 2.0, 3.1, 4.0], "level": 0.95},
    "gauge_stability": {"occasions": CHECKS, "reference": 10.0, "alpha": 0.05},
    "guard_zone": {**LIMITS, "u": 0.1, "level": 0.95},
    "guarded_decision": {"value": 10.0, **LIMITS, "u": 0.1, "level": 0.95},
    "age_replacement": {"shape": 3.0, "scale": 40_000.0, "planned_cost": 1_700.0, "unplanned_cost": 6_000.0},
    "cost_rate_at": {
        "age": 23_494.0,
        "shape": 3.0,
        "scale": 40_000.0,
        "planned_cost": 1_700.0,
        "unplanned_cost": 6_000.0,
    },
    "acceptance_limit": {"acceptable": 10.0, "rejectable": 11.0, "sigma": 1.0, "alpha": 0.05, "beta": 0.1},
    "lag1_autocorrelation": {"points": PIECES, "confidence": 0.95},
    "between_checks": {"subgroups": CHECKS},
    "bootstrap_checks": {
        "subgroups": CHECKS,
        "index": lambda checks: float(np.mean(checks)),
        "seed": 1,
        "confidence": 0.95,
        "draws": 200,
    },
    "level_change": {"points": PIECES, "seed": 1, "draws": 200},
    "rank_change": {"points": PIECES},
    "choose_model": {"readings": LIVES, "kind": "runout", "seed": 1, "draws": 200},
    "model_of_kind": {"kind": "runout"},
    "detrended_capability": {
        "subgroups": CHECKS,
        **LIMITS,
        "at": [100.0 * number for number in range(12)],
        "lives": ["a"] * 5 + ["b"] * 7,
        "confidence": 0.95,
    },
    "fit_model": {"readings": LIVES, "name": "weibull"},
    "goodness_of_fit": {"model": WEIBULL, "seed": 1, "draws": 200},
    "honest_percentiles": {
        "subgroups": SIZES,
        "model": "rayleigh",
        "upper": 20.0,
        "seed": 1,
        "confidence": 0.95,
        "draws": 200,
    },
    "kaplan_meier": {"lives": LIVES, "failed": [True] * 48},
    "life_model": {"lives": LIVES, "failed": [True] * 48},
    "machine_performance": {"readings": PIECES, **LIMITS, "confidence": 0.95},
    "model_capability": {"subgroups": CHECKS, **LIMITS, "target": 10.0, "confidence": 0.95, "minimum": 1.33},
    "modified_limits": {**LIMITS, "sigma": 0.1, "n": 5, "share_outside": 0.001, "width": 3.0},
    "sample_moments": {"readings": PIECES},
    "order_seen": {"points": PIECES, "confidence": 0.95},
    "percentile_indices": {"model": WEIBULL, "upper": 20.0, "seed": 1, "confidence": 0.95, "draws": 200},
    "probability_plot": {"readings": PIECES},
    "few_pieces": {"n": 40, "checks": 8, "confidence": 0.95},
    "pieces_needed": {"index": 1.5, "required": 1.33, "confidence": 0.95},
    "requirement": {"index": FOUND.cpk, "required": 1.33},
    "rises_and_falls": {"points": PIECES},
    "shapiro_wilk": {"readings": PIECES},
    "deviation_chart": {"parts": ["a", "b"] * 6, "subgroups": CHECKS, "nominal": {"a": 10.0, "b": 10.1}},
    "standardised_chart": {
        "parts": ["a", "b"] * 6,
        "subgroups": CHECKS,
        "nominal": {"a": 10.0, "b": 10.1},
        "mean_range": {"a": 0.2, "b": 0.3},
    },
    "sloping_limits": {
        "at": [100.0 * number for number in range(12)],
        "means": [10.0 + 0.01 * number + 0.01 * (number % 3) for number in range(12)],
        "ranges": [0.1, 0.2, 0.15] * 4,
        "n": 5,
        **LIMITS,
        "reserve": 3.0,
        "confidence": 0.95,
    },
    "spread_change": {"subgroups": CHECKS, "seed": 1, "draws": 200},
    "target_location_index": {"mean": 10.0, **LIMITS, "target": 10.1, "sigma": 0.1},
    "target_location_interval": {
        "mean": 10.0,
        "sigma": 0.1,
        "n": 40,
        **LIMITS,
        "target": 10.1,
        "seed": 1,
        "confidence": 0.95,
        "draws": 200,
    },
    "time_model": {"subgroups": CHECKS, "seed": 1, "alpha": 0.01, "draws": 200},
    "one_sided_factor": FACTOR,
    "one_sided_factor_approximate": FACTOR,
    "two_sided_factor": FACTOR,
    "two_sided_factor_howe": FACTOR,
    "tolerance_interval": {"readings": PIECES, "share": 0.95, "confidence": 0.95},
    "trend_line": {"x": [1.0, 2.0, 3.0, 4.0], "y": [1.0, 2.1, 2.9, 4.2], "confidence": 0.95},
    "compare_groups": {"groups": GROUPS, "level": 0.95},
    "comparison_in_words": {"comparison": room.compare_groups(GROUPS)},
    "bartlett_test": OF_GROUPS,
    "levene_test": OF_GROUPS,
    "narrow_start_factor": {"point": 3, "share": 0.5},
    "nested_reml": {"groups": [CHECKS[:6], CHECKS[6:]]},
    "one_way_anova": OF_GROUPS,
    "games_howell": {**OF_GROUPS, "level": 0.95},
    "tukey": {**OF_GROUPS, "level": 0.95},
    "difference_from_summary": {"first": (20, 10.0, 0.1), "second": (20, 10.1, 0.1), "level": 0.95},
    "paired_difference": {"first": PIECES[:20], "second": PIECES[20:40], "level": 0.95},
    "two_means": {"first": PIECES[:20], "second": PIECES[20:], "level": 0.95},
    "variance_components": {**OF_GROUPS, "level": 0.95},
    "welch_anova": OF_GROUPS,
}
"""One sound call of each public function."""
