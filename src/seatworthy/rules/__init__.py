"""Rulebook + evidence + estimates -> verdicts with their reason. Pure: no store, no clock."""
