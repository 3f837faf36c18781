"""Chance: constants, control limits, run rules, run lengths, capability. One method, one file."""

from spc.statistics.anova_line import AnovaLine
from spc.statistics.average_range_study import AverageRangeStudy, average_range_study
from spc.statistics.capability import Capability, capability
from spc.statistics.chart_design import CusumDesign, EwmaDesign, design_cusum, design_ewma
from spc.statistics.chart_signals import ChartSignal, chart_signals, points_beyond, standardised
from spc.statistics.constants import c4, d2, d3, d4
from spc.statistics.cusum import CusumChart, cusum_limits
from spc.statistics.cusum_law import cusum_law
from spc.statistics.ewma import EwmaChart, ewma_limits
from spc.statistics.ewma_law import ewma_law
from spc.statistics.factors import ControlFactors, control_factors
from spc.statistics.gauge_layout import GaugeReading
from spc.statistics.gauge_linearity import GaugeLinearity, gauge_linearity
from spc.statistics.gauge_stability import GaugeStability, gauge_stability
from spc.statistics.gauge_study import GaugeComponent, GaugeStudy, gauge_study
from spc.statistics.guard_band import GuardedDecision, GuardZone, guard_zone, guarded_decision
from spc.statistics.honest_capability import HonestCapability, honest_capability
from spc.statistics.index_intervals import Estimate
from spc.statistics.individuals import individuals_limits
from spc.statistics.master_repeats import MasterRepeats, master_repeats
from spc.statistics.median_r import median_r_limits
from spc.statistics.normal_model import NormalQuantiles, fallout_ppm, normal_quantiles
from spc.statistics.normality import NormalityTest, anderson_darling
from spc.statistics.plan_promise import PlanPromise, plan_promise
from spc.statistics.rules_law import rules_law
from spc.statistics.run_length_law import RunLengthLaw
from spc.statistics.run_rules import (
    RULE_SETS,
    RunFinding,
    RunRule,
    find_runs,
    last_point_findings,
    longest_window,
    rule_set,
)
from spc.statistics.shewhart import ShewhartLimits, limits_from_sigma
from spc.statistics.shewhart_law import shewhart_law
from spc.statistics.single_appraiser_study import SingleAppraiserStudy, single_appraiser_study
from spc.statistics.straight_line import StraightLine, straight_line
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.within_sigma import WithinSigma
from spc.statistics.xbar_r import xbar_r_limits
from spc.statistics.xbar_s import xbar_s_limits

__all__ = [
    "c4",
    "d2",
    "d3",
    "d4",
    "ControlFactors",
    "control_factors",
    "SubgroupSummaries",
    "summarise_subgroups",
    "WithinSigma",
    "ShewhartLimits",
    "limits_from_sigma",
    "xbar_r_limits",
    "xbar_s_limits",
    "median_r_limits",
    "individuals_limits",
    "EwmaChart",
    "ewma_limits",
    "CusumChart",
    "cusum_limits",
    "ChartSignal",
    "chart_signals",
    "points_beyond",
    "standardised",
    "RULE_SETS",
    "RunFinding",
    "RunRule",
    "find_runs",
    "last_point_findings",
    "longest_window",
    "rule_set",
    "RunLengthLaw",
    "rules_law",
    "shewhart_law",
    "ewma_law",
    "cusum_law",
    "EwmaDesign",
    "design_ewma",
    "CusumDesign",
    "design_cusum",
    "PlanPromise",
    "plan_promise",
    "Estimate",
    "Capability",
    "capability",
    "HonestCapability",
    "honest_capability",
    "NormalQuantiles",
    "normal_quantiles",
    "fallout_ppm",
    "NormalityTest",
    "anderson_darling",
    "AnovaLine",
    "GaugeReading",
    "GaugeComponent",
    "GaugeStudy",
    "gauge_study",
    "AverageRangeStudy",
    "average_range_study",
    "SingleAppraiserStudy",
    "single_appraiser_study",
    "MasterRepeats",
    "master_repeats",
    "StraightLine",
    "straight_line",
    "GaugeLinearity",
    "gauge_linearity",
    "GaugeStability",
    "gauge_stability",
    "GuardZone",
    "guard_zone",
    "GuardedDecision",
    "guarded_decision",
]
