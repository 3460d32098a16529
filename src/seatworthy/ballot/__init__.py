"""The panellist's own phone: plain pages with forms and no script, under an unguessable link.

Nothing here knows what is in a glass; what a page may show is what `steps.ballot_views` holds.
"""
