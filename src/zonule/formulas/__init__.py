"""The published science as functions: arrays in, arrays out, no records, no files.

``optics`` holds what happens between a cornea, a lens and a retina; ``power`` the published
formulas that say where the lens will come to rest.
"""
