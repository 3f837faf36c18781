"""The saw-tooth of a size that grows and is set back: how far to put it on the side that growth comes from."""

import math

__all__ = ["saw_tooth_lead"]

_NONE_UM = 1e-9
"""Growth from check to check that counts as none."""


def saw_tooth_lead(growth_um: float, growth_sd_um: float, wander_um: float, deadband_um: float) -> float:
    """Half the growth to expect until the next move: by so much a size is put before its target.

    Parameters
    ----------
    growth_um, growth_sd_um : float
        Expected growth from check to check and how sure that is, µm.
    wander_um : float
        Standard deviation of what a size does besides from check to check, each time anew, µm.
    deadband_um : float
        Change at which the slide is moved again, above 0.

    Returns
    -------
    float
        µm, between 0 and half the deadband; 0 where growth is 0.

    Notes
    -----
    A drift of d a check is centred on its target over N checks if it starts at −d·N/2 (the mean square is then
    (d·N)²/12 instead of (d·N)²/3). Where the slide is moved again at a deadband D, the mean square on the way from
    −a to D is (D² − a·D + a²)/3, least at a = D/2: half of the growth that fills the deadband. N is where the change
    is expected to fill it,

        N²·(d² + s²) + N·v² = D²,

    with s the doubt about d and v the wander, and the lead d·N/2. A growth that is sure gives D/2, one that is
    small beside its doubt or beside the wander next to nothing, for then the next move will come of something else.

    References
    ----------
    Own calculus; for resetting a drift see Gibra, J. Ind. Eng. 18 (1967) 35–41, and Drezner & Wesolowsky, Int. J.
    Prod. Res. 27 (1989) 13–20 (both from memory).

    Examples
    --------
    >>> saw_tooth_lead(0.4, 0.0, 0.0, 4.0)
    2.0
    >>> round(saw_tooth_lead(0.4, 0.0, 1.5, 4.0), 2)
    1.04
    """
    if abs(growth_um) < _NONE_UM:
        return 0.0
    steady, loose = growth_um**2 + growth_sd_um**2, wander_um**2
    root = math.sqrt(loose**2 + 4.0 * steady * deadband_um**2)
    checks = 2.0 * deadband_um**2 / (loose + root)
    return abs(growth_um) * checks / 2.0
