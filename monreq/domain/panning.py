"""Left and right in an in-ear pair: where a source starts, and the gains that put it there.

Left and right are the musician's own, facing where they face. A pan law sets two gains; on in-ears there is no base of
loudspeakers, so that none of these promises an angle.
"""

import math

from monreq.domain import plausible
from monreq.domain.refusals import AngleOutsideBase, NoPlaceOnStage, PanOutOfRange, WidthOutOfRange

Point = tuple[float, float]
Gains = tuple[float, float]

STARTING_WIDTH = 0.6  # chosen: sides can be told apart, and nothing is in one ear only
LARGEST_STAGE_M = 1000.0  # chosen: beyond every stage
OWN_PLACE_M = 1e-9  # chosen: nearer than any plan is drawn, so that no side is told from rounding
RIGHT_ANGLE_DEG = 90.0


def constant_power(pan: float) -> Gains:
    """Return the gains of left and right that keep the power of a source the same wherever it is.

    Args:
        pan: -1 left to +1 right.

    Returns:
        Amplitude gains of left and right; both 3 dB down in the middle.

    Raises:
        PanOutOfRange: It lies outside -1 to +1, or is no number.

    References:
        Sine and cosine law: cos and sin of (pan + 1) pi / 4; J. O. Smith, Spectral Audio Signal Processing.
    """
    angle = (_pan(pan) + 1) * math.pi / 4
    return math.cos(angle), math.sin(angle)


def linear(pan: float) -> Gains:
    """Return the gains that keep the sum of left and right the same, for comparison: both 6 dB down in the middle.

    Args:
        pan: -1 left to +1 right.

    Raises:
        PanOutOfRange: It lies outside -1 to +1, or is no number.
    """
    to_the_right = (_pan(pan) + 1) / 2
    return 1 - to_the_right, to_the_right


def compromise(pan: float) -> Gains:
    """Return gains halfway between `constant_power` and `linear`, for comparison: both 4.5 dB down in the middle.

    Args:
        pan: -1 left to +1 right.

    Raises:
        PanOutOfRange: It lies outside -1 to +1, or is no number.

    References:
        The geometric mean of both, a common construction.
    """
    (power_left, power_right), (linear_left, linear_right) = constant_power(pan), linear(pan)
    return math.sqrt(max(0.0, power_left) * linear_left), math.sqrt(power_right * linear_right)


def law_of_sines(left_deg: float, half_base_deg: float) -> Gains:
    """Return gains of two loudspeakers that put an image at an angle, of unit power, for comparison only.

    Args:
        left_deg: Angle of the image to the left of straight ahead, within the base. [degrees]
        half_base_deg: Angle of each loudspeaker, above 0 and at most 90. [degrees]

    Raises:
        AngleOutsideBase: The image lies outside the base, or the base is none.

    References:
        Bauer's law of sines: (L - R) / (L + R) = sin(angle) / sin(half base).
    """
    _check_angles(left_deg, half_base_deg)
    return _of_unit_power(math.sin(math.radians(left_deg)) / math.sin(math.radians(half_base_deg)))


def law_of_tangents(left_deg: float, half_base_deg: float) -> Gains:
    """Return the same as `law_of_sines` by the tangent law, which equals panning by vectors and has no base of 90.

    Args:
        left_deg: Angle of the image to the left of straight ahead, within the base. [degrees]
        half_base_deg: Angle of each loudspeaker, above 0 and below 90. [degrees]

    Raises:
        AngleOutsideBase: The image lies outside the base, or the base is none or 90.

    References:
        Tangent law: (L - R) / (L + R) = tan(angle) / tan(half base); Pulkki, JAES 1997, eq. 9 for vectors.
    """
    _check_angles(left_deg, half_base_deg)
    if half_base_deg == RIGHT_ANGLE_DEG:
        raise AngleOutsideBase
    return _of_unit_power(math.tan(math.radians(left_deg)) / math.tan(math.radians(half_base_deg)))


def from_stage(listener_xy: Point, facing_deg: float, source_xy: Point, width: float = 1.0) -> float:
    """Return where a source starts for a musician on stage: a source at their left starts on the left.

    The plan has the audience at the bottom: x to the audience's right, y away from it. A musician who faces the audience
    therefore has the left hand towards +x. A source behind is placed by its side, as one in front.

    Args:
        listener_xy: Where the musician stands. [m]
        facing_deg: Where they face: 0 towards the audience, growing clockwise seen from above. [degrees]
        source_xy: Where the source stands. [m]
        width: 0 all in the middle, to 1 as wide as the stage.

    Returns:
        The sine of the source's bearing to the musician's right, times the width; 0 at the own place. -1 left to +1.

    Raises:
        NoPlaceOnStage: A position is not two finite figures within 1000 m.
        NotAFigure: The facing is not finite.
        WidthOutOfRange: The width lies outside 0 to 1, or is no number.

    References:
        Common practice, no source: a source at the musician's left starts on the left.
    """
    if not 0 <= width <= 1:
        raise WidthOutOfRange
    (x, y), (source_x, source_y) = _on_stage(listener_xy), _on_stage(source_xy)
    facing = math.radians(math.fmod(plausible.figure(facing_deg), 360))
    away_m = math.hypot(source_x - x, source_y - y)
    if away_m < OWN_PLACE_M:
        return 0.0
    to_the_right_m = (source_y - y) * math.sin(facing) - (source_x - x) * math.cos(facing)
    return width * max(-1.0, min(1.0, to_the_right_m / away_m)) + 0.0  # no minus before a zero


def _pan(pan: float) -> float:
    if not -1 <= pan <= 1:
        raise PanOutOfRange
    return pan


def _check_angles(left_deg: float, half_base_deg: float) -> None:
    if not (0 < half_base_deg <= RIGHT_ANGLE_DEG and abs(left_deg) <= half_base_deg):
        raise AngleOutsideBase


def _of_unit_power(difference_over_sum: float) -> Gains:
    left, right = 1 + difference_over_sum, 1 - difference_over_sum
    size = math.hypot(left, right)
    return left / size, right / size


def _on_stage(place: Point) -> Point:
    if not all(abs(metres) <= LARGEST_STAGE_M for metres in place):
        raise NoPlaceOnStage
    return place
