"""Who may ask the server for what, from which machine, how much and how often.

Every part is a piece of plain ASGI around the server; `layers` puts them in their order. With the
server open to this machine alone only some of them stand; on a network all do.
"""
