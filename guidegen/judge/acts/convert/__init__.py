"""From a step in words to the act that says the same and is at least as strict, or the reason why there is none."""
