# What a limit profile says: sources, leaves, test points, how a limit is applied.

source-confirmed = confirmed
source-read = read
source-second-hand = second-hand
source-memory = from memory
source-chosen = chosen here, no published value

motion-sliding = sliding
motion-swing = swing
motion-folding = folding
motion-vertical = vertical
motion-boom = boom

direction-closing = closing
direction-opening = opening

hazard-closing-edge = main closing edge
hazard-other-edge = other edge
hazard-flat-face = flat face
hazard-reducing-gap = reducing gap

visit-kind-first = before first use
visit-kind-recurring = recurring
visit-kind-after-change = after a change

assessed-mean = mean of the hits
assessed-worst = greatest of the hits

at-gap-given = gap { $gap_mm } mm
at-gap-below-open = { $below_open_mm } mm below fully open
at-gap-space-to-obstacle = the space of { $space_mm } mm to the obstacle, at least { $at_least_mm } mm

at-place-above-ground = { $mm } mm above the ground
at-place-half-height = half height
at-place-below-top = { $mm } mm below the top
at-place-mid-width = mid width
at-place-from-left-jamb = { $mm } mm from the left jamb
at-place-from-right-jamb = { $mm } mm from the right jamb
at-place-obstacle-or = the most protruding point of the obstacle, else { $mm } mm above the ground

gap-rule-at = { $mm } mm
gap-rule-lower-of = { $mm } mm, or { $other_mm } mm below fully open if lower
gap-rule-space-to-obstacle = the space to the obstacle, at least { $mm } mm

wanted-because = { $at_gap }; { $at_place }{ $brought_down_mm ->
    [none] {""}
   *[other] , brought down to { $brought_down_mm } mm
}

left-out-no-obstacle = { $direction }, { $hazard }: no points, because there is no { $within_mm ->
    [none] post or obstacle in the way of the opening leaf
   *[other] obstacle within { $within_mm } mm of the fully open leaf
}
left-out-gap = { $direction }, { $hazard }: no points at a gap of { $gap_mm } mm, because the leaf opens { $opening_mm } mm{ $smallest_mm ->
    [0] {""}
   *[other] { " " }and the smallest gap of the profile is { $smallest_mm } mm
}
left-out-place = { $direction }, { $hazard }: no point { $at_place }, because the leaf measures { $along_mm } mm

no-plan-no-visit = the gate file has no [visit]: the required test points are unknown
no-plan-no-length = the gate file does not give { $key }: the required test points are unknown
no-plan-no-opening-side = the gate file does not give opening_side: whether hits on opening are required is unknown
no-plan-unknown-scheme = profile { $profile } has no test-point scheme “{ $scheme }”, only { $known }
no-plan-wrong-visit = test-point scheme { $scheme } of { $profile } is not for this kind of visit ({ $visit_kind }), only for: { $visit_kinds }
no-plan-no-scheme = profile { $profile } prescribes no test points for this kind of visit ({ $visit_kind })
no-plan-no-rule = test-point scheme { $scheme } of { $profile } has no rule for a { $motion } leaf: name the points in the gate file
no-plan-bad-length = { $key } of the leaf is { $found_mm } mm, not a length above 0 mm

no-limit-below-smallest-gap = no limit: the gap of { $gap_mm } mm is below { $smallest_mm } mm, for which { $profile } has no value; { $note }
no-limit-no-value = no limit: { $profile } has no value for a { $motion } leaf at { $test_point }

## Tables of `relent limits`

profiles-built-in = built-in limit profiles
profiles-limits = limits of { $profile }: { $title }
profiles-values = other values of { $profile }
profiles-test-points = test points of { $profile }
profiles-disagreements = where sources of { $profile } disagree
profiles-not-assessed = requirements of { $profile } that a force test does not cover
profiles-two = { $first } and { $second }
profiles-name = name
profiles-title = title
profiles-deciding = limits that decide
profiles-well-known = of these confirmed or read
profiles-limit = limit
profiles-measure = measure
profiles-value = value
profiles-number = number
profiles-unit = unit
profiles-applies = applies to
profiles-assessed = assessed
profiles-source = source
profiles-clause = clause
profiles-note = note
profiles-scheme = scheme
profiles-visits = visits
profiles-leaves = leaves
profiles-hit = hit
profiles-gaps = gaps
profiles-places = places
profiles-hits-each = hits each
profiles-about = about
profiles-readings = readings
profiles-here = here
profiles-asks = requirement
profiles-first = first
profiles-first-source = source of the first
profiles-second = second
profiles-second-source = source of the second
profiles-comparison = comparison
profiles-shown-only = shown only
profiles-every-hit = every hit
profiles-gap-from-to = gap from { $from_mm } to { $to_mm } mm
profiles-gap-from = gap from { $from_mm } mm
profiles-gap-above-to = gap above { $from_mm } to { $to_mm } mm
profiles-gap-above = gap above { $from_mm } mm
profiles-gap-to = gap to { $to_mm } mm
profiles-confirmed = confirmed on { $on } from { $from }{ $before ->
    [none] {""}
   *[other] , corrected from { $before } { $unit }
}
profiles-limit-in-full = { $value } { $unit }, { $applies } ({ $assessed }{ $decides ->
    [true] {""}
   *[other] , shown only
})

likeness-same = same
likeness-differs = differs
likeness-only-first = only in the first
likeness-only-second = only in the second

# Hazards that a force test does not cover, and what to do there.
unread-hazard-hinge-side = hinge side of the leaf
    .instead = no reliable measurement, because the force grows towards the hinge; inspect the geometry, and guard the gap or keep it constant; readings at the leading edge apply to nine tenths of the width only
unread-hazard-lower-edge = lower edge of the leaf against ground, kerb or slope
    .instead = no reliable measurement; estimate the force from the readings at the leading edge and the geometry, and keep the gap wide or guarded
unread-hazard-feet-and-wheels = lower edge and wheels of the leaf: feet under it or run over
    .instead = inspect the gap to the ground and the wheels along the whole travel
unread-hazard-way-of-opening = obstacles in the path of the opening leaf
    .instead = where a post, a wall or a parked object is near the path, test the opening direction too
unread-hazard-shearing = drawing-in and shearing between the moving leaf and fixed parts: posts, guide rollers, bars of an open infill
    .instead = inspect the whole travel; close the infill, cover the rollers, or keep the gaps too small for any part of the body
unread-hazard-panels = drawing-in between panels, or between panel and guide
    .instead = inspect the joints of the panels and the guides along the whole travel
unread-hazard-lifted = a person lifted or drawn in by the opening leaf
    .instead = try a test load at the lower edge; inspect grips, handles and openings
unread-hazard-falling-leaf = fall of the leaf after a spring, rope or chain breaks
    .instead = inspect the fall protection, the springs and the ropes
unread-hazard-boom-sweep = the boom hits heads, riders and vehicles from above, along its whole length
    .instead = no rule for test points was found; inspect the whole sweep, both ends and the counterweight
unread-hazard-leaving-guides = the leaf leaves its guides or falls over: end stops, hinges, rollers
    .instead = inspect stops, hinges and guides by hand, with the drive released
unread-hazard-small-gaps = gaps below the smallest gap of the profile
    .instead = no force limit applies there; compare the gaps with the minimum gaps of EN 349
unread-hazard-safety-devices = light beams, edges, brake and manual release
    .instead = a force test does not show whether a safety device acts at other places, after a fault or without power; try each one

minimum-gap = { $part } { $gap_mm } mm
part-finger = finger
part-hand = hand
part-arm = arm
part-foot = foot
part-head = head
part-body = body
