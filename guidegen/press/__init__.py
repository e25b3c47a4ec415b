"""Printed matter made from the assessment record: the bench sheet will be laid out here.

Empty until the bench sheet comes; the install page prints from its own style sheet meanwhile.
"""
