"""Workshop: reads what people wrote, with the place of every value."""
