"""From doubts to questions with answers that fit. Pure: no disk, no clock, no network."""
