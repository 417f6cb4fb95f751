"""What all rooms speak of: frozen records of signs, readings, conditions, rules, reasons and cases.

Standard library only; imports no other room.
"""
