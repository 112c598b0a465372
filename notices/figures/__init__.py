"""Figures of a campaign: counts and estimates, each with what it is of. Values in, values out."""
