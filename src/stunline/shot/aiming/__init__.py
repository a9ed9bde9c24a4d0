"""From what a coach asks for to a strike in numbers, found by playing.

``solve`` is the door; each module beside it solves one thing: a contact, a pot, a way of
arriving, a pace.
"""
