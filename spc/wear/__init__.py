"""The die: a state-space model of its growth with the slide as known input, and the pieces left.

The model
---------
Everything an engineer needs to derive it again; each module says its own part in more detail. T is the width of
the tolerance in µm, N(m, v) a normal law with variance v, a prime the transpose.

**State** (`belief`), one for each characteristic on each die set, in µm unless said:

    x = (offset, wear, rate, gain, shift, batch)

offset: size minus target at the slide zero of this mounting with new dies; wear: growth since the set's first
check (what it had grown before stands in the offset); rate: growth per 1,000 pieces; gain: µm smaller per µm that the
dies approach; shift: a slow wander that comes back; batch: what the present bar batch adds. Sizes of one slide share
its moves and nothing else: each has its own state. It begins at the first check as

    x = (0, 0, rate₀, gain₀, 0, 0),   P = diag(σ_o², 0, σ_r² + settling, σ_g², s², σ_b²)

**Reading** of n pieces, mean minus target, with the approach a since the first slide zero as known input (where a set
came off is where its next slide zero stands):

    y = h'x + c·H + e,   h = (1, 1, 0, −a, 1, 1),   e ~ N(0, σ²/n + σ_c²)

σ² = (4·(T/12)² + Q)/(4 + f) from the checks before, Q the sum of squares within them and f its degrees of freedom;
single pieces add half the square of each move (slide taken out at the plan's gain) and one (`spread`). σ_c moves a
check as a whole. c = exp(−m/150), m pieces after a cold start (a mounting, a stop of 20 minutes or more), 0 below
0.03. H is kept by machine beside x, from N(0, (T/20)²), and learned by a scalar update of its own from the same
surprise (`warm_up`): H ← H + c·Var H·(y − forecast)/S, Var H ← Var H·(1 − c²·Var H/S); c²·Var H is part of r.

**Between checks** (`filter.advance`), over Δ pieces, k = Δ/1000, φ = exp(−Δ/L):

    wear ← wear + k·rate + u₁     rate ← rate + u₂     Cov(u₁, u₂) = w²·[[k³/3, k²/2], [k²/2, k]]
    shift ← φ·shift + N(0, (1 − φ²)·s²)                offset, gain, batch stay

An integrated random walk for growth, so that break-in and late acceleration are followed; w in µm per 1,000 pieces
and √(1,000 pieces). Steps may be cut at will; a counter that has not gone on moves nothing. The gain has no noise:
only logged moves teach it. Before each such step from age a to b the dies settle (`breaks.settle`): Var(rate) grows
by rate₀²·(e^(−a/B) − e^(−b/B)), by nothing where the bracket is under 10⁻⁶; at the beginning by what is still to
come, b = ∞.

**Taking a check in** (`filter.observe`), P the covariance, r the noise of e and the start:

    S = h'Ph + r,  K = Ph/S,  x ← x + K(y − c·H − h'x),  P ← (I − Kh')P(I − Kh')' + rKK'

In this order: settle, pieces made, settings opened, forecast, judged (below), a surprise opened, taken in with S
anew; σ² learns last, and not where the spread rang. A doubted entry and a check with an odd piece teach nothing.

**What breaks the run** (`breaks`, called by `station.die_events` and `station.machine_events`), each at the age of
the check before, a changed setting and a surprise at that of the check they are met with:

- bar batch: batch ← N(0, σ_b²), its covariances 0. Batches lie around a common mean, so many teach the offset.
- re-mounting: at the first after a check, wear's row and column of P take the offset's in, P ← APA' with
  A = I + 1 at (wear, offset), for the two are known better together, and the reference stays at the offset believed
  then; offset ← N(offset, σ_o²), shift ← N(0, s²), batch as above. Wear, rate and gain stay. Reground or new:
  everything from the prior.
- gauge found d off and set on its master: offset ← offset − d and variance (d/4)² opened; where nobody said which
  characteristic it reads, d² alone. Where the last check surprised by d ± d/2 and was told as a step, and no bars or
  setting came since, that check was misread: everything as before it. Another setting than the slide: σ_b² opened.
- a surprise u that nobody logged: u² opened before the check is taken in, and H learns nothing. Opened variance goes
  half to offset, half to shift, for nobody knows whether it stays. Told as wear or drift by b µm per 1,000 pieces: b²
  more for Var(rate).
- a surprise u told as a cold start: the check is not taken in; until the machine is warm r holds c²·(Var H + u²), and
  H learns nothing, for this start is not the usual one.
- counter set back or forward with the dies on: the age goes on (`station.counter_doubt`).

**Prior** (`prior`): without finished sets σ_o = max(T, 20), rate₀ = T/20 with the sign of the gain (0 where no slide
sets the size), σ_r = T/20, gain₀ of the plan with σ_g a fifth of it (or both as the geometry has them), s = 0.035·T,
σ_b = 0.06·T, σ_c = 0.01·T. The clock of a die is its life Λ (the geometric middle of worn-out sets, 20,000 pieces
counting as half a set): L = Λ/8, B = 0.04·Λ, w = 0.27·√(1,000/Λ)·max(|rate₀|, σ_r/3). Finished sets then move them:
rate by a normal law with conjugate prior, the guess counting as half a set for the centre, two for the spread;
s², σ_b², σ_c² by the variogram of levels (`noises`): half the mean squared move between checks Δ apart is
σ²/n + σ_c² + s²·(1 − exp(−Δ/L)), and σ_b² more across a change of bars; the guess counts as twelve moves;
gain by what each set's moves said with its prior taken out (`gain`): 1/v = 1/v_after − 1/v_before, pooled over
sets of a machine (which differ by 2 %) and machines (10 %, counting as two machines beside what they show).

**Detection** (`watch`). z = (y − c·H − h'x)/√S, judged where no logged event wholly explains the change, once a
check is in and 2·3.2·√S ≤ T; a sum restarts at 0 once it has rung:

    |z| > 3.2                                         by chance once in 728 checks
    C± = max(0, C± ± z − 0.5) > 8.0, z cut at ±3.2    once in 9,500; two-sided CUSUM
    G = max(0, G + S_w(1 − 1/k²)/2 − f·ln k) > 6.0    once in 3,300 or more, k = 1.5, n = 5

S_w is the sum of squares within the check over σ², on f = n − 1, judged once σ² has 16 degrees of freedom and taken
f_σ/(f_σ + 2) times for the doubt left in it. All three together ring once in about 550 checks where the model holds.
Were the forecast not to learn, a lasting shift of z by 0.5, 1, 2 would be found by the CUSUM in 84, 16.4, 6.0 checks
on average, a single z of 3.2 or more in every second one at once: the textbook's run lengths (`statistics.cusum_law`,
normal tails), held in tests.

**Stories** (`change`). Over the last 24 levels of a mounting (y + gain·a − c·H as they came in; 3 at least) a plain
run is jointly normal with

    S_ij = s²·exp(−|Δ|/L) + Var(rate)·kᵢkⱼ + w²·k²(3K − k)/6 + σ_b²·[same bars] + noise·[i = j] + 10⁴·max(s², 1)

(k the earlier, K the later of the two, in 1,000 pieces from the first level on; the last term leaves the beginning
unknown; 10⁻¹² of the largest S_ii is added to each for rounding). A story adds a shape u of height N(0, A²). For
residuals r from the line with the rate believed at the first level its Bayes factor B and its height are

    2 ln B = (u'S⁻¹r)²A²/(1 + A²u'S⁻¹u) − ln(1 + A²u'S⁻¹u),      A²·u'S⁻¹r/(1 + A²u'S⁻¹u)

What was told of these checks before is part of a plain run, or each surprise that follows would be told as it again:
S has h²·uu' more for a story told with the height h (for an entry h² more noise of its check), and, for the shape of a
step, d² at a gauge that was d off and σ_b² at another setting logged before the last check (`change.remembered`).
A cause weighs Σ chance·B over the checks p it may have begun at, "nothing" 1. With N levels (`station.told`):

    story                     u                                      chance at p    A
    step                      1 from p on                            1/(N − 1)      T/6
    wear, drift               1,000 pieces since p − 1, from p on    0.5/(N − 1)    max(4·|rate|, T/10), a slope
    bars, setting, gauge      1 from p on, where logged at p         0.5            2·σ_b, T/6, what it was off
    cold start                c from p on, where c rose at p         0.5            T/6
    entry                     1 at the last check                    0.05/(N − 1)   T/3

A gauge found off by less than the noise of a check has no story.

**Way to an end** (`way`), times the sign that makes it grow. Travel X: length gain·X − reference, done wear, doubt of
offset + wear − X·gain (after a re-mounting of wear − X·gain, for wear then holds the offset's); size limit U on the
side of growth: length U − offset + gain·a, done wear, doubt of offset + wear.

**Pieces left** (`stages`, `learned`, `forecast`). With R pieces to one end, three opinions: r₁ at the rate now,
r₂ at the mean pace so far, r₃ from the lives of the earlier sets that came to this age;
q = 2,000·sd/rate·(2sd/(left + 2sd))²:

    ln(R + q) = ln(r₂+q) + b₀ + b₁·ln((r₁+q)/(r₂+q)) + b₃·ln((r₃+q)/(r₂+q)) + scatter

a Bayesian linear regression on what finished sets had left at the same share of their way, its guess weighing the
opinions by their precision (written out in `learned.left_law`); so the law of R + q is log-Student. The set lasts
until its first end: survivals multiply. An end that a check found came since the check before: it counts half a usual
interval earlier, and that check teaches no forecast. What came off before its end is drawn out where six tenths of the
way were done, else it counts for the middle life alone (`stages`); chips stand apart as a rate (`past_lives`).

**Advice** (`correction`): the approach u that brings Σ E[(size − aim)²]/T² to its least at the middle of the coming
interval, u = Σ g·(ahead − aim)/T² / Σ (g² + Var g)/T²; whole steps, beyond a deadband only, no size within 3σ of a
limit; the aim lies half a saw-tooth to the side that growth comes from (`saw_tooth`).

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
from spc.wear.change import KEPT_LEVELS, Level, Story, Tale, remembered, weigh_stories
from spc.wear.cheapest_change import (
    DieCosts,
    SetAhead,
    chance_of_end,
    cheapest_change,
    cost_at,
    least_cost_rate,
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
from spc.wear.prior import SlideRole, on_machine, prior_for
from spc.wear.saw_tooth import saw_tooth_lead
from spc.wear.spread import PieceSpread, learn_spread, sigma_um
from spc.wear.stages import PastWay, StagePoint, note_stage, past_way
from spc.wear.warm_up import COLD_PIECES, WarmUp, fresh_warm_up, learn_warm_up, still_cold
from spc.wear.watch import MEAN_LIMIT, Finding, Watch, from_here, lone_spread, watch_mean, watch_spread
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
    "remembered",
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
    "from_here",
    "lone_spread",
    "watch_mean",
    "watch_spread",
    "SlideRole",
    "on_machine",
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
    "least_cost_rate",
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
