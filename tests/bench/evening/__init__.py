"""An invented job of three days, told by machine in noise, and an evening that settles its doubts.

`story.py` says who told what, `sounds.py` speaks it, `told.jsonl` is what each thing said means,
`person.py` is somebody who knows it and presses the keys, `play.py` lets him sit an evening.
"""
