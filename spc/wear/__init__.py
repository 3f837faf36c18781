"""The die: a state-space model of its growth with the slide as known input, and the pieces left."""

from spc.wear.belief import WearBelief, WearPrior, fresh_belief
from spc.wear.breaks import change_batch, open_rate, open_shift, remount
from spc.wear.change import KEPT_LEVELS, Level, Story, Tale, weigh_stories
from spc.wear.cheapest_change import (
    DieCosts,
    SetAhead,
    chance_of_end,
    cheapest_change,
    cost_at,
    waiting_cost,
)
from spc.wear.check_interval import (
    CheckCosts,
    CheckOptimum,
    SizeAhead,
    best_check,
    loss_per_piece,
    safe_interval,
    share_ahead,
    shortened,
)
from spc.wear.correction import Advice, SlideSize, advise
from spc.wear.filter import Forecast, advance, forecast_mean, gain_of, level_um, observe
from spc.wear.finished import FinishedSet
from spc.wear.forecast import CROSSING_LEVELS, LifeForecast, forecast_life
from spc.wear.gain import GainFact, expected_gain, gain_fact
from spc.wear.learned import PastWays, past_ways
from spc.wear.no_setting import Mismatch, mismatch
from spc.wear.noises import LevelMoves, Noises, RecentLevels, Seen, learn_moves, noises_from
from spc.wear.over_adjustment import ToAndFro, to_and_fro
from spc.wear.past_lives import (
    SAFE_ENDS,
    PlannedAge,
    SetLives,
    SuddenEnds,
    planned_age,
    set_lives,
    sudden_ends,
)
from spc.wear.prior import SlideRole, prior_for
from spc.wear.saw_tooth import saw_tooth_lead
from spc.wear.spread import PieceSpread, learn_spread, sigma_um
from spc.wear.stages import PastWay, StagePoint, note_stage, past_way
from spc.wear.warm_up import COLD_PIECES, WarmUp, fresh_warm_up, learn_warm_up, still_cold
from spc.wear.watch import MEAN_LIMIT, Finding, Watch, lone_spread, watch_mean, watch_spread
from spc.wear.way import Way, size_way, travel_way, wear_line_um

__all__ = [
    "CheckCosts",
    "CheckOptimum",
    "SizeAhead",
    "best_check",
    "loss_per_piece",
    "safe_interval",
    "share_ahead",
    "shortened",
    "WearBelief",
    "WearPrior",
    "fresh_belief",
    "Forecast",
    "advance",
    "change_batch",
    "forecast_mean",
    "gain_of",
    "level_um",
    "observe",
    "open_rate",
    "open_shift",
    "remount",
    "CROSSING_LEVELS",
    "LifeForecast",
    "forecast_life",
    "PastWays",
    "past_ways",
    "PastWay",
    "StagePoint",
    "note_stage",
    "past_way",
    "Way",
    "size_way",
    "travel_way",
    "wear_line_um",
    "FinishedSet",
    "GainFact",
    "expected_gain",
    "gain_fact",
    "LevelMoves",
    "Noises",
    "RecentLevels",
    "Seen",
    "learn_moves",
    "noises_from",
    "KEPT_LEVELS",
    "Level",
    "Story",
    "Tale",
    "weigh_stories",
    "COLD_PIECES",
    "WarmUp",
    "fresh_warm_up",
    "learn_warm_up",
    "still_cold",
    "MEAN_LIMIT",
    "Finding",
    "Watch",
    "lone_spread",
    "watch_mean",
    "watch_spread",
    "SlideRole",
    "prior_for",
    "PieceSpread",
    "learn_spread",
    "sigma_um",
    "Advice",
    "SlideSize",
    "advise",
    "DieCosts",
    "SetAhead",
    "chance_of_end",
    "cheapest_change",
    "cost_at",
    "waiting_cost",
    "SAFE_ENDS",
    "PlannedAge",
    "SetLives",
    "SuddenEnds",
    "planned_age",
    "set_lives",
    "sudden_ends",
    "Mismatch",
    "mismatch",
    "saw_tooth_lead",
    "ToAndFro",
    "to_and_fro",
]
