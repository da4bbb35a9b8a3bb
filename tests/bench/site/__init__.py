"""A building site that can be heard: what is said there, its noises, and the air between."""
