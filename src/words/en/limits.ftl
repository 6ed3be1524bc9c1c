# What a limit profile says: sources, leaves, test points, how a limit is applied.

known-from-confirmed = confirmed
known-from-read = read
known-from-second-hand = second-hand
known-from-memory = from memory
known-from-chosen = chosen here, no published value

motion-sliding = sliding
motion-swing = swing
motion-folding = folding
motion-vertical = vertical
motion-boom = boom

direction-closing = closing
direction-opening = opening

hazard-closing-edge = closing edge
hazard-other-edge = other edge
hazard-flat-face = flat face
hazard-reducing-gap = reducing gap

visit-kind-first = before first use
visit-kind-recurring = recurring
visit-kind-after-change = after a change

judged-mean = mean of the hits
judged-worst = greatest of the hits
