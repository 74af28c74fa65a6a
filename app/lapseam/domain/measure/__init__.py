"""Published rules, worked: what does a rule of a standard or of the trade make of what was read, and how?

Every rule takes plain values and answers with a `Worked`: the answer, the steps in words, the source, and how far it
may be trusted. Rules describe; none of them judges a car, and none corrects what was read.
May import: `lapseam.domain` and the standard library's pure parts.
"""
