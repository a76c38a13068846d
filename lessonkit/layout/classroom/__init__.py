"""The papers of a plan: what a class, a kiln and a term are run from, each from the numbers that `planning.numbers.plan` gave."""
