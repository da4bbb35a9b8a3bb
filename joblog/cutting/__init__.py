"""What to cut from which stick, with the least stock. Needs no book and no job.

A search goes down these files: `cut_lists` (what a person typed), `cuts` (one item), `grid` (whole
numbers), `packing` (least stock) on `columns`, `knapsack` and `highs`, `regroup` (fewest patterns),
`sticks` and `saw` (back to what is cut, and in which order). `effort` says when it ends.
"""
