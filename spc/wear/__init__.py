"""The die: a state-space model of its growth with the slide as known input, and the pieces left.

The model
---------
Everything an engineer needs to derive it again; each module says its own part in more detail. T is the width of
the tolerance in µm, N(m, v) a normal law with variance v, a prime the transpose.

**State** (`belief`), one for each characteristic on each die set, in µm unless said:

    x = (offset, wear, rate, gain, shift, batch)

offset: size minus target at the slide zero of this mounting with new dies; wear: growth since the set was new;
rate: growth per 1,000 pieces; gain: µm smaller per µm that the dies approach; shift: a slow wander that comes back;
batch: what the present bar batch adds. Sizes of one slide share its moves and nothing else: each has its own state.

**Reading** of n pieces, mean minus target, with the approach a beyond the slide zero as known input:

    y = h'x + c·H + e,   h = (1, 1, 0, −a, 1, 1),   e ~ N(0, σ²/n + σ_c²)

σ² of a piece is the pooled sum of squares within checks, a first guess T/12 counting as 4 degrees of freedom
(`spread`); σ_c moves a check as a whole. c = exp(−m/150), m pieces after a cold start, 0 below 0.03; H is learned
beside x by a scalar update of its own, from N(0, (T/20)²) (`warm_up`): c²·Var H is part of the reading's noise.

**Between checks** (`filter.advance`), over Δ pieces, k = Δ/1000, φ = exp(−Δ/L):

    wear ← wear + k·rate + u₁     rate ← rate + u₂     Cov(u₁, u₂) = w²·[[k³/3, k²/2], [k²/2, k]]
    shift ← φ·shift + N(0, (1 − φ²)·s²)                offset, gain, batch stay

An integrated random walk for growth, so that break-in and late acceleration are followed; w in µm per 1,000 pieces
and √(1,000 pieces). Steps may be cut at will. The gain has no noise: only logged moves teach it.

**Taking a check in** (`filter.observe`), P the covariance, r the noise of e and the start:

    S = h'Ph + r,  K = Ph/S,  x ← x + K(y − c·H − h'x),  P ← (I − Kh')P(I − Kh')' + rKK'

**What breaks the run** (`breaks`, called by `station.die_events` and `station.machine_events`):

- bar batch: batch ← N(0, σ_b²), its covariances 0. Batches lie around a common mean, so many teach the offset.
- re-mounting: at the first, wear's covariance takes the offset's in (the two are known better together) and the
  reference stays at the offset believed then; offset ← N(offset, σ_o²), shift ← N(0, s²), batch as above.
  Wear, rate and gain stay. Reground or new: everything from the prior.
- gauge found d off and set on its master: offset ← offset − d; variance (d/4)² opened, d² where nobody said which
  characteristic it reads. Another setting than the slide: σ_b² opened.
- a surprise u that nobody logged: u² opened before the check is taken in. Opened variance goes half to offset,
  half to shift, for nobody knows whether it stays. Told as wear or drift by b: b² more for the rate.
- a surprise u told as a cold start: u² more for Var H until the machine is warm; x and H learn nothing of it.
- counter set back with the dies on: the age goes on (`station.set_back`).

**Prior** (`prior`): without finished sets σ_o = max(T, 20), rate T/20 ± T/20 with the sign of the gain (0 ± T/20
where no slide sets the size), gain ± a fifth (or what the geometry allows), s = 0.035·T,
σ_b = 0.06·T, σ_c = 0.01·T. The clock of a die is its life Λ (the geometric middle of worn-out sets, 20,000 pieces
counting as half a set): L = Λ/8, w = 0.27·√(1,000/Λ)·max(|rate|, rate sd/3), and while dies settle the rate is
opened by rate²·(e^(−a/B) − e^(−b/B)) between the ages a and b, B = 0.04·Λ. Finished sets of the part then move them:
rate by a normal law with conjugate prior, the guess counting as half a set for the centre, two for the spread;
s², σ_b², σ_c² by the variogram of levels (`noises`): half the mean squared move between checks Δ apart is
σ²/n + σ_c² + s²·(1 − exp(−Δ/L)), and σ_b² more across a change of bars; the guess counts as twelve moves;
gain by what each set's moves said with its prior taken out (`gain`): 1/v = 1/v_after − 1/v_before, pooled over
sets of a machine (which differ by 2 %) and machines (10 %, counting as two machines beside what they show).

**Detection** (`watch`). z = (y − forecast)/√S, judged once a check is in and 2·3.4·√S ≤ T:

    |z| > 3.4                                         by chance once in 1,480 checks
    C± = max(0, C± ± z − 0.5) > 7.0, z cut at ±3.4    once in 3,500; two-sided CUSUM
    G = max(0, G + S_w(1 − 1/k²)/2 − f·ln k) > 5.6    once in 2,100 or more, k = 1.5, n = 5

S_w is the sum of squares within the check over σ², on f = n − 1. All three together ring once in about 700 checks
where the model holds. Were the forecast not to learn, a lasting shift of z by 0.5, 1, 2 would be found by the CUSUM
in 67, 14.4, 5.3 checks on average, a single z of 3.4 or more in every second one at once: the textbook's run lengths
(`statistics.cusum_law`, normal tails), held in tests.

**Stories** (`change`). Over the last 24 levels (readings with slide moves out) a plain run is jointly normal with

    S_ij = s²·exp(−|Δ|/L) + Var(rate)·kᵢkⱼ + w²·k²(3K − k)/6 + σ_b²·[same bars] + noise·[i = j] + 10⁴·max(s², 1)

(k the earlier, K the later of the two, from the first level on; the last term leaves the beginning unknown). A story
adds a shape u (step, ramp, a start that cools off, one check) of height N(0, A²). For residuals r from the line
believed at the first level its Bayes factor B is 2 ln B = (u'S⁻¹r)²A²/(1 + A²u'S⁻¹u) − ln(1 + A²u'S⁻¹u). A cause
weighs Σ chance·B over the checks it may have begun at, against "nothing" with 1; chances and A stand in
`station.told`: an event logged at that check is half as likely as a step at all places together.

**Way to an end** (`way`). Travel X: length gain·X − reference, done wear, doubt of offset + wear − X·gain;
size limit U on the side of growth: length U − offset + gain·a, done wear, doubt of offset + wear.

**Pieces left** (`stages`, `learned`, `forecast`). With R pieces to one end, three opinions: r₁ at the rate now,
r₂ at the mean pace so far, r₃ from the middle life of earlier sets; q = 2,000·sd/rate·(2sd/(left + 2sd))²:

    ln(R + q) = ln(r₂+q) + b₀ + b₁·ln((r₁+q)/(r₂+q)) + b₃·ln((r₃+q)/(r₂+q)) + scatter

a Bayesian linear regression on what finished sets had left at the same twentieth of their way, its guess weighing
the opinions by their precision; so the law of R + q is log-Student. The set lasts until its first end: survivals
multiply. What comes off as planned is censored (`stages`); chips stand apart as a rate (`past_lives`).

**Advice** (`correction`): the move that brings the expected squared distances from the aims, over tolerances, to
their least at the middle of the coming interval; whole steps, beyond a deadband only, no size within 3σ of a limit.

References
----------
R. E. Kalman (1960); R. S. Bucy & P. D. Joseph (1968); A. C. Harvey, *Forecasting, Structural Time Series Models
and the Kalman Filter* (1989), for local trends; E. S. Page (1954) and D. M. Hawkins & D. H. Olwell (1998) for
CUSUMs; R. E. Kass & A. E. Raftery (1995) for Bayes factors; N. Cressie (1993) for variograms; A. Gelman et al.,
*Bayesian Data Analysis* (all from memory). Held in tests against statsmodels' general filter, the discrete Riccati
equation, densities written out, and simulation.
"""

from spc.wear.belief import WearBelief, WearPrior, fresh_belief
from spc.wear.breaks import change_batch, open_rate, open_shift, remount, settle
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
    SizeAhead,
    cheapest_interval,
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
    "SizeAhead",
    "cheapest_interval",
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
    "settle",
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
