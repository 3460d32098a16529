"""The three decisions: who sits, what a call is worth, what to train. Arrays in, arrays out."""
