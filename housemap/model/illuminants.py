"""The illuminants that a house file may name.

CIE 015:2018 Colorimetry, 4th edition: A, C, the D series, the fluorescent FL1 to FL12 and
FL3.1 to FL3.15, the high-pressure HP1 to HP5, the indoor daylights ID50 and ID65 and the LED
series; B is the CIE's earlier direct sunlight, E the equal-energy illuminant.
"""

ILLUMINANTS: tuple[str, ...] = (
    "A", "B", "C", "D50", "D55", "D60", "D65", "D75", "E",
    *(f"FL{i}" for i in range(1, 13)),
    *(f"FL3.{i}" for i in range(1, 16)),
    *(f"HP{i}" for i in range(1, 6)),
    "ID50", "ID65",
    *(f"LED-B{i}" for i in range(1, 6)),
    "LED-BH1", "LED-RGB1", "LED-V1", "LED-V2",
)  # fmt: skip

OBSERVERS: tuple[str, ...] = ("2", "10")
"""The CIE standard observers, in degrees of visual field."""
