"""The procedure as a state machine, and the lint that refuses an unsafe one. Pure: no files, no clock.

`resolve` makes the steps for one machine and one kit out of the written procedure; `analyse` walks every path
through them; `lint` holds each rule against what was found; `states_report` prints it for a reviewer.
"""
