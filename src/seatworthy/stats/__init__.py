"""Arrays to estimates: pure computation, no names, no tables, no rounding."""
