"""Build reports: what an owner sends back after the work, written, read and judged.

report      what a report says, and the text that says it
text        reads a text that was received, with the place of each part
private     finds a name, an address or a number of a telephone in a line
reading     holds a reading against the limit of a hold point
received    holds a report against the guide of its edition; it is never believed
codes       what can be wrong with one
"""
