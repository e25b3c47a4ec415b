"""Does the kit go on this machine? Requirements in three-valued logic, compiled to a small decision diagram.

`evaluate` judges the requirements directly. `diagram.compile_rules` makes of them what the page carries:
which question to ask next, and how it ends. Both give the same answers; `tests/properties` compares them.
"""
