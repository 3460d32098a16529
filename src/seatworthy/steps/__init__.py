"""One function per arrow of the loop: the only place that joins the store with the pure parts."""
