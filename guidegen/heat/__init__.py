"""Physics of a heated boiler with a feed coil: SI in, SI out, nothing of the rest of the package."""
