"""What logged runs teach about one machine and its kits, and what further runs would."""
