"""Hands-free: what is said from the ladder, what it means at this moment, and the answer by ear."""
