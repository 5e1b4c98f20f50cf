"""The flat pattern view: the plate on the sheet, drawn as a drawing is and edited where it is drawn.

Glossary
--------
sheet     the ground the plate is drawn on; its places are mm of the flat pattern, y up
mark      what is written beside the plate in screen pixels: dimension, balloon, flag note, word
handle    a small hollow ring that can be dragged
reach     how near the pointer must come, in mm at the present scale
"""
