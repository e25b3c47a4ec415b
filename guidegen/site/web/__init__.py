"""The site's face: theme overrides, style sheet, scripts and what is vendored; package data, no code."""
