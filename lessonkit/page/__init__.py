"""A page on her own machine to choose a lesson, change it and print it: a server on 127.0.0.1 and what it shows."""
