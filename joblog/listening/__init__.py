"""Hands-free: sound as it comes, what is said in it, and the answer that is heard."""
