"""Drawings made from the machine's and the coil's dimensions will be drawn here; none is made yet."""
