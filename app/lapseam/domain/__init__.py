"""What is true of cars, plans, photos and records. Pure: no files, no database, no windows, no clock.

May import: the standard library's pure parts. Every other room may import this one.
"""
