"""The frozen model of a lesson and of a room, and its decoding with every fault gathered."""
