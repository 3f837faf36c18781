"""Chance: constants, control limits, run rules, run lengths, capability. One method, one file."""

from spc.statistics.acceptance_limits import AcceptanceLimit, acceptance_limit
from spc.statistics.age_replacement import AgeReplacement, age_replacement, cost_rate_at
from spc.statistics.anova_line import AnovaLine
from spc.statistics.autocorrelation import Lag1, lag1_autocorrelation
from spc.statistics.average_range_study import AverageRangeStudy, average_range_study
from spc.statistics.between_checks import BetweenChecks, between_checks
from spc.statistics.bootstrap import bootstrap_checks
from spc.statistics.capability import Capability, capability
from spc.statistics.change_point import LevelChange, RankChange, level_change, rank_change
from spc.statistics.chart_design import CusumDesign, EwmaDesign, design_cusum, design_ewma
from spc.statistics.chart_signals import ChartSignal, chart_signals, points_beyond, standardised
from spc.statistics.choose_model import ModelChoice, choose_model, model_of_kind
from spc.statistics.compare_groups import GroupComparison, compare_groups
from spc.statistics.comparison_words import comparison_in_words
from spc.statistics.constants import c4, d2, d3, d4
from spc.statistics.cusum import CusumChart, cusum_limits
from spc.statistics.cusum_law import cusum_law
from spc.statistics.detrended_capability import DetrendedCapability, LifeTakenOut, detrended_capability
from spc.statistics.equal_spreads import SpreadTest, bartlett_test, levene_test
from spc.statistics.ewma import EwmaChart, ewma_limits
from spc.statistics.ewma_law import ewma_law
from spc.statistics.factors import ControlFactors, control_factors
from spc.statistics.fallout_interval import fallout_interval, fallout_says
from spc.statistics.fitted_model import FittedModel, fit_model
from spc.statistics.gauge_layout import GaugeReading
from spc.statistics.gauge_linearity import GaugeLinearity, gauge_linearity
from spc.statistics.gauge_stability import GaugeStability, gauge_stability
from spc.statistics.gauge_study import GaugeComponent, GaugeStudy, gauge_study
from spc.statistics.goodness_of_fit import GoodnessOfFit, goodness_of_fit
from spc.statistics.guard_band import GuardedDecision, GuardZone, guard_zone, guarded_decision
from spc.statistics.honest_capability import HonestCapability, honest_capability
from spc.statistics.honest_percentiles import HonestPercentiles, honest_percentiles
from spc.statistics.index_intervals import Estimate
from spc.statistics.individuals import individuals_limits
from spc.statistics.kaplan_meier import KaplanMeier, kaplan_meier
from spc.statistics.life_model import LifeModel, life_model
from spc.statistics.machine_performance import MachinePerformance, machine_performance
from spc.statistics.master_repeats import MasterRepeats, master_repeats
from spc.statistics.median_r import median_r_limits
from spc.statistics.model_capability import ModelCapability, model_capability
from spc.statistics.modified_limits import ModifiedLimits, modified_limits
from spc.statistics.moments import Moments, sample_moments
from spc.statistics.narrow_start import narrow_start_factor
from spc.statistics.nested_reml import NestedFit, nested_reml
from spc.statistics.normal_model import NormalQuantiles, fallout_ppm, normal_quantiles
from spc.statistics.normality import NormalityTest, anderson_darling
from spc.statistics.one_way_anova import OneWayAnova, one_way_anova
from spc.statistics.order_seen import OrderSeen, order_seen
from spc.statistics.pairwise_differences import PairDifference, games_howell, tukey
from spc.statistics.percentile_indices import PercentileIndices, percentile_indices
from spc.statistics.plan_promise import PlanPromise, plan_promise
from spc.statistics.probability_plot import ProbabilityPlot, probability_plot
from spc.statistics.range_point import range_point
from spc.statistics.requirement import Requirement, few_pieces, pieces_needed, requirement
from spc.statistics.rises_and_falls import RisesAndFalls, rises_and_falls
from spc.statistics.rule_sets import RULE_SETS, RunRule, longest_window, rule_set
from spc.statistics.rules_law import rules_law
from spc.statistics.run_length_law import RunLengthLaw
from spc.statistics.run_rules import RunFinding, find_runs, last_point_findings
from spc.statistics.shapiro_wilk import shapiro_wilk
from spc.statistics.shewhart import ShewhartLimits, limits_from_sigma
from spc.statistics.shewhart_law import shewhart_law
from spc.statistics.short_run import ShortRunChart, deviation_chart, standardised_chart
from spc.statistics.single_appraiser_study import SingleAppraiserStudy, single_appraiser_study
from spc.statistics.sloping_limits import SlopingLimits, sloping_limits
from spc.statistics.spread_change import SpreadChange, spread_change
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.target_capability import target_location_index, target_location_interval
from spc.statistics.time_model import TimeModel, time_model
from spc.statistics.tolerance_factors import (
    one_sided_factor,
    one_sided_factor_approximate,
    two_sided_factor,
    two_sided_factor_howe,
)
from spc.statistics.tolerance_interval import ToleranceInterval, tolerance_interval
from spc.statistics.trend_line import TrendLine, trend_line
from spc.statistics.two_means import MeanDifference, difference_from_summary, paired_difference, two_means
from spc.statistics.variance_components import VarianceComponents, variance_components
from spc.statistics.welch_anova import WelchAnova, welch_anova
from spc.statistics.within_sigma import WithinSigma
from spc.statistics.xbar_r import xbar_r_limits
from spc.statistics.xbar_s import xbar_s_limits

__all__ = [
    "range_point",
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
    "fallout_interval",
    "fallout_says",
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
    "GaugeLinearity",
    "gauge_linearity",
    "GaugeStability",
    "gauge_stability",
    "GuardZone",
    "guard_zone",
    "GuardedDecision",
    "guarded_decision",
    "AcceptanceLimit",
    "acceptance_limit",
    "Lag1",
    "lag1_autocorrelation",
    "BetweenChecks",
    "between_checks",
    "bootstrap_checks",
    "LevelChange",
    "RankChange",
    "level_change",
    "rank_change",
    "ModelChoice",
    "choose_model",
    "model_of_kind",
    "DetrendedCapability",
    "LifeTakenOut",
    "detrended_capability",
    "FittedModel",
    "fit_model",
    "GoodnessOfFit",
    "goodness_of_fit",
    "HonestPercentiles",
    "honest_percentiles",
    "KaplanMeier",
    "AgeReplacement",
    "age_replacement",
    "cost_rate_at",
    "kaplan_meier",
    "LifeModel",
    "life_model",
    "MachinePerformance",
    "machine_performance",
    "ModelCapability",
    "model_capability",
    "ModifiedLimits",
    "modified_limits",
    "Moments",
    "sample_moments",
    "OrderSeen",
    "order_seen",
    "PercentileIndices",
    "percentile_indices",
    "ProbabilityPlot",
    "probability_plot",
    "Requirement",
    "few_pieces",
    "pieces_needed",
    "requirement",
    "RisesAndFalls",
    "rises_and_falls",
    "shapiro_wilk",
    "ShortRunChart",
    "deviation_chart",
    "standardised_chart",
    "SlopingLimits",
    "sloping_limits",
    "SpreadChange",
    "spread_change",
    "target_location_index",
    "target_location_interval",
    "TimeModel",
    "time_model",
    "one_sided_factor",
    "one_sided_factor_approximate",
    "two_sided_factor",
    "two_sided_factor_howe",
    "ToleranceInterval",
    "tolerance_interval",
    "TrendLine",
    "trend_line",
    "GroupComparison",
    "compare_groups",
    "comparison_in_words",
    "SpreadTest",
    "bartlett_test",
    "levene_test",
    "narrow_start_factor",
    "NestedFit",
    "nested_reml",
    "OneWayAnova",
    "one_way_anova",
    "PairDifference",
    "games_howell",
    "tukey",
    "MeanDifference",
    "difference_from_summary",
    "paired_difference",
    "two_means",
    "VarianceComponents",
    "variance_components",
    "WelchAnova",
    "welch_anova",
]
