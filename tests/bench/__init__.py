"""Benchmarks: ratios against a named peer measured in the same run, never a timed test."""
