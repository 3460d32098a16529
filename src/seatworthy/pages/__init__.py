"""The screens: each loads one finished answer and shows it. No sum, no rule, no SQL in here."""
