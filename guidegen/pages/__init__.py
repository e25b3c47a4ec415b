"""What a reader sees: pages written from assessments, and what every page is made of."""
