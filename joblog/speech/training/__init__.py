"""How the trade model is made: text, voices, training, Kaldi files and graphs.

Not part of what users install. `python -m joblog.speech.training.build` does everything.
"""
