"""Two-colour harmony of Ou & Luo 2006: a number beside the checks, never a verdict."""

import numpy as np

from housemap.colorimetry.arrays import Floats


def harmony(lab_a: Floats, lab_b: Floats) -> Floats:
    """Harmony CH of CIELAB pairs (Ou & Luo 2006, Color Res. Appl. 31:191), about -1.2 to 1.7.

    Fitted on 1,431 pairs on a screen with a grey surround.
    """
    hues = _hue(lab_a) + _hue(lab_b)  # first of all, so that both orders give the same to the bit
    return _chroma_part(lab_a, lab_b) + _light_part(lab_a, lab_b) + hues


def _chroma_part(lab_a: Floats, lab_b: Floats) -> Floats:
    chroma = np.sqrt((lab_a[..., 1:] ** 2).sum(-1)) - np.sqrt((lab_b[..., 1:] ** 2).sum(-1))
    # The metric hue difference, not an angle.
    hue_2 = np.maximum(((lab_a[..., 1:] - lab_b[..., 1:]) ** 2).sum(-1) - chroma**2, 0.0)
    apart = np.sqrt(hue_2 + (chroma / 1.46) ** 2)
    return np.asarray(0.04 + 0.53 * np.tanh(0.8 - 0.045 * apart))


def _light_part(lab_a: Floats, lab_b: Floats) -> Floats:
    total = lab_a[..., 0] + lab_b[..., 0]
    apart = np.abs(lab_a[..., 0] - lab_b[..., 0])
    return np.asarray(
        0.28 + 0.54 * np.tanh(-3.88 + 0.029 * total) + 0.14 + 0.15 * np.tanh(-2.0 + 0.2 * apart)
    )


def _hue(lab: Floats) -> Floats:
    light, a, b = lab[..., 0], lab[..., 1], lab[..., 2]
    angle = np.degrees(np.arctan2(b, a)) % 360.0
    strength = 0.5 + 0.5 * np.tanh(-2.0 + 0.5 * np.sqrt(a**2 + b**2))
    pleasing = (
        -0.08
        - 0.14 * np.sin(np.radians(angle + 50.0))
        - 0.07 * np.sin(np.radians(2.0 * angle + 90.0))
    )
    from_yellow = (90.0 - angle) / 10.0
    yellow = (0.22 * light - 12.8) / 10.0 * np.exp(from_yellow - np.exp(from_yellow))
    return np.asarray(strength * (pleasing + yellow))
