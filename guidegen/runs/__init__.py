"""Logged runs: files of any logger, what stands in them, which rows are left out, and where the shots are."""
