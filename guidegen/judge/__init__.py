"""Judge: requirements and procedures, judged in one three-valued logic."""
