"""Commands, messages, files written whole or not at all."""
