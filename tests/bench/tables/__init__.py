"""Tables as people send them, valid and with slips, and what is made of them.

Every table is written out of rows whose meaning is known, then spoilt or spelt otherwise in a way
of which it is known whether it leaves the meaning alone. A strict reader of its own reads the bytes
without any of the program's code. What the program takes without a complaint must be both.
"""
