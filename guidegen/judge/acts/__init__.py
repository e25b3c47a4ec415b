"""What an instruction can ask for: acts, the sentences that say them, and what each does to the machine."""
