"""Colour as numbers: spectra, spaces, differences, appearance, notation, undertone.

Arrays in, arrays out: the last axis holds channels or bands, leading axes broadcast, float64.
Scales are in the names: `xyz100` has Y 100 for the perfect diffuser, `lab100` has L* 0..100,
`srgb1` is 0..1.
"""
