"""The plan of a session: what is asked for, who gets which glass under which code; pure."""
