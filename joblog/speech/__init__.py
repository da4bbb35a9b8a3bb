"""Speech in, words out: recognizers behind one small protocol."""
