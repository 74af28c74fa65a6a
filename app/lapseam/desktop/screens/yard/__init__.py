"""The Yard: all cars, a new car, and the facts of one."""
