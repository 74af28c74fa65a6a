"""The Findings: zone by zone, its photos beside what is said of them."""
