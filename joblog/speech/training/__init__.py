"""How the trade model is made: text, voices, training, Kaldi files and graphs.

Not part of what users install. `python -m joblog.speech.training.build` does everything.
Its tests are passed over where the extra `train` or OpenFst's fstconvert is missing: to run them
all, `pip install joblog[train]` and Debian's libfst-tools and libfst22-plugins-base.
"""
