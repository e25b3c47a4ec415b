"""The catalogue: YAML with positions, typed models, inheritance, cross-file checks."""
