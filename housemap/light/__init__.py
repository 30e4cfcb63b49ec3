"""Light in rooms: from windows and lamps, over all bounces, to the colours as they are seen.

Knows a room and arrays of reflectance (the last axis holds the 41 bands of 380(10)780 nm), never
a screen. `housemap.light.room_light.light_of` is the way in.
"""
