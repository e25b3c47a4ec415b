"""Charts: one frame per kind drawn once by matplotlib, and the curves of each guide set into it.

`frame` makes the axes, `figure` sets curves, labels, text alternative and data table into them; one module per
kind of chart chooses what is shown. A chart reads the assessment record and nothing else.
"""
