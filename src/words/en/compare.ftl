# Comparing series of hits: what differs, what is shown, what is left open. And how many hits are needed.

aspect-gate = gate
aspect-drive = drive
aspect-edge = edge
aspect-gauge = gauge
aspect-temperature = temperature
aspect-method = method
aspect-setting = setting
aspect-visit = visit

thing-motion = motion of the leaf
thing-gate-name = name of the gate
thing-leaf-mass = mass of the leaf
thing-leaf-height = height of the leaf
thing-leaf-width = width of the leaf
thing-clear-opening = clear opening
thing-counter-edge = opposing edge
thing-drive = drive
thing-edge = edge
thing-edge-travel = travel of the edge
thing-gauge-serial = serial number of the gauge
thing-gauge-spring-rate = spring rate of the gauge
thing-gauge-capacity = capacity of the gauge
thing-gauge-face = face of the gauge
thing-gauge-zeroing = zeroing of the gauge
thing-gauge-calibration = calibration of the gauge
thing-firmware = firmware
thing-closing-speed = closing speed
thing-opening-speed = opening speed
thing-setting = setting { $key }
thing-day = day of the test
thing-tester = tester
thing-temperature = temperature
thing-wind = wind
thing-supply = supply voltage
thing-profile = limit profile
thing-method = levels and periods of the limit profile

unknown = not known

difference-text = { $thing }: { difference-text.before } before, { difference-text.after } after
    .before = { $before ->
        [none] { unknown }
       *[other] { $before }
    }
    .after = { $after ->
        [none] { unknown }
       *[other] { $after }
    }
difference-quantity = { $thing }: { difference-quantity.before } before, { difference-quantity.after } after
    .before = { $before ->
        [none] { unknown }
       *[other] { $before } { $unit }
    }
    .after = { $after ->
        [none] { unknown }
       *[other] { $after } { $unit }
    }
difference-motion = { $thing }: { difference-motion.before } before, { difference-motion.after } after
    .before = { $before ->
        [none] { unknown }
        [sliding] { motion-sliding }
        [swing] { motion-swing }
        [folding] { motion-folding }
        [vertical] { motion-vertical }
       *[other] { motion-boom }
    }
    .after = { $after ->
        [none] { unknown }
        [sliding] { motion-sliding }
        [swing] { motion-swing }
        [folding] { motion-folding }
        [vertical] { motion-vertical }
       *[other] { motion-boom }
    }
difference-zeroing = { $thing }: { difference-zeroing.before } before, { difference-zeroing.after } after
    .before = { $before ->
        [none] { unknown }
        [true] by itself
       *[other] not by itself
    }
    .after = { $after ->
        [none] { unknown }
        [true] by itself
       *[other] not by itself
    }
difference-setting = { $thing }: { difference-setting.before } before, { difference-setting.after } after
    .before = { $before ->
        [none] { unknown }
        [true] on
        [false] off
       *[other] { $before }
    }
    .after = { $after ->
        [none] { unknown }
        [true] on
        [false] off
       *[other] { $after }
    }
difference-day = { $thing }: { difference-day.before } before, { difference-day.after } after
    .before = { $before ->
        [none] { unknown }
       *[other] { $before }
    }
    .after = { $after ->
        [none] { unknown }
       *[other] { $after }
    }

spot-at = { $test_point }
spot-all-points = all test points

unmatched = { $test_point }: no hit in { $missing_in }

worsening = { $measure }, { $spot }

open-reason-unmatched = { unmatched }
open-reason-not-compared = { $measure }, { $spot }: { $no_answer }
open-reason-not-excluded = { $measure }, { $spot }: a worsening by the margin is not excluded
open-reason-left-out = { $measure }, { $spot }: { $log } was left out
open-reason-no-common-point = the series have no test point in common

no-answer-read-from-different-things = not read from the same signal in every hit (force, position or speed)
no-answer-no-common-value = no test point has a value in both series
no-answer-pilot-too-small = no test point of the pilot has two values
no-answer-pilot-without-spread = all values of the pilot are alike: no spread to plan with
no-answer-too-few = too few values: { $found } found, at least { $least } needed
no-answer-too-many = too many values: { $found } found, at most { $most } possible
no-answer-not-finite = a value is not a finite number
no-answer-no-spread = all values are alike: their spread cannot be estimated
no-answer-not-paired = { $first } hits before and { $second } after: no pairs
no-answer-out-of-range = { $found } is outside the range of the method
no-answer-confidence-out-of-reach = these values reach a confidence of { $reachable } at most, { $wanted } required
no-answer-power-out-of-reach = { $most } hits reach a power of { FIXED($reached, digits: 2) }, { $wanted } required

excluded-no-value = { $unmeasured }
excluded-lower-bound = lower bound only: { $limitations }
excluded-either-way = uncertain either way: { $limitations }
excluded-no-partner = the other series has no reading of a hit of this number

## The page

comparison-tab = { $gate } · comparison
comparison-title = Comparison on { $gate }
comparison-standing = These hits show how hard and for how long the leaf met a gauge at the points listed. They do not prove that the gate is free of danger; local codes and licensed practice come first.
comparison-not-shown = “No difference shown” does not mean that there is none: only an interval inside a margin shows that a change is small.

comparison-no-margin = { $after } and { $before } compared without a margin: differences only, nothing decided.
comparison-worse = { $after } is worse than { $before } by more than the margin: { $place }{ $more ->
    [0] .
   *[other] , and { $more } more.
}
comparison-not-worse = { $after } is not worse than { $before } by more than the margin, at any test point.
comparison-undecided = Undecided: it is not shown that { $after } is not worse than { $before } by the margin.
comparison-undecided-because = Undecided because
comparison-worse-where = Worse by more than the margin
comparison-unmatched = Test points in one series only

comparison-in-order = The versions in order
comparison-in-order-note = Each version against { $reference }, over all common test points. A mean over the points can hide a worse one: the sections below show each point.
comparison-against = { $what } against { $reference }
comparison-differences = Other differences
comparison-no-differences = The gate files give no other difference in gate, drive, settings, edge, gauge or temperature.
comparison-named = for information
comparison-accepted = accepted: it may have caused the effect
comparison-not-accepted = not accepted
comparison-forbids = no comparison possible
comparison-effects = Effects, point by point
comparison-effects-key = Dot: one test point. Diamond: all points together. Line: confidence interval of this one difference. Grey: worse by the margin or more.
comparison-distributions = Distribution of each measure
comparison-distributions-key = Share of hits at or below each value, over all common test points. Steps come from points with different levels.
comparison-distribution = Distribution of { $measure }
comparison-distribution-statement = { $before_hits } hits of { $before } and { $after_hits } of { $after }, from { $least } to { $most } { $unit }
comparison-curves = Force over time
comparison-curves-of = Force over time: { $test_point }
comparison-curves-statement = Greatest median force { FIXED($before_n, digits: 0) } N with { $before } and { FIXED($after_n, digits: 0) } N with { $after }
comparison-left-out = Readings left out
comparison-left-out-note = Lower bounds and readings that are not valid do not enter. Where one is missing, “not worse” is not shown.
comparison-left-out-row = { $series }, { $log } ({ $test_point }), { $measure }: { $why }
comparison-left-out-count = { $readings ->
    [one] 1 reading left out: a lower bound, or no value (see the report).
   *[other] { $readings } readings left out: lower bounds, or no value (see the report).
}
comparison-files = Files

comparison-column-measure = measure
comparison-column-thing = difference
comparison-column-bearing = effect on the comparison
comparison-column-where = place
comparison-column-hits = hits
comparison-column-difference = difference, { $unit }
comparison-column-shift = median shift, { $unit }
comparison-column-p = p, adjusted
comparison-column-exact-p = exact p
comparison-column-margin = margin

comparison-axis = { $measure }, { $unit }
comparison-axis-difference = after − before, { $unit }
comparison-axis-medians = difference of the medians, N
comparison-axis-time = ms after contact
comparison-share = { $percent } %
comparison-worse-by-the-margin = worse by the margin
comparison-legend-before = { $series }, { $hits ->
    [one] 1 hit
   *[other] { $hits } hits
} (grey: least to greatest)
comparison-legend-after = { $series }, { $hits ->
    [one] 1 hit
   *[other] { $hits } hits
} (thin lines)

comparison-margin = { $size } { $unit }
comparison-without-margin = no margin
comparison-measure-with-margin = { $measure }, margin { $margin }
comparison-numbers = { $estimate } ({ $lower } to { $upper })
comparison-numbers-of = { $measure }: numbers
comparison-points = { $points ->
    [one] 1 point
   *[other] { $points } points
}
comparison-p = { FIXED($p, digits: 3) }
comparison-p-small = < 0.001
comparison-not-compared = not compared
comparison-not-compared-because = not compared: { $why }
comparison-measure-not-compared = { $measure }: not compared: { $why }
comparison-points-differ = The effect differs between the test points (p { $p }): read them one by one.

comparison-change-not-shown = { $measure }: no difference shown ({ $percent } %: { $lower } to { $upper } { $unit })
comparison-change-higher = { $measure_code ->
    [stop-time] stops { $size } { $unit } later
    [reversal-time] reverses { $size } { $unit } later
   *[other] { $measure } { $size } { $unit } { $unit ->
        [ms] longer
       *[other] higher
    }
} ({ $percent } %: { $lower } to { $upper })
comparison-change-lower = { $measure_code ->
    [stop-time] stops { $size } { $unit } sooner
    [reversal-time] reverses { $size } { $unit } sooner
   *[other] { $measure } { $size } { $unit } { $unit ->
        [ms] shorter
       *[other] lower
    }
} ({ $percent } %: { $lower } to { $upper })
comparison-claim = { $claim ->
    [worse-beyond] worse by more than { $margin }
    [less-than-margin] changed by less than { $margin } either way
    [not-worse] not worse by more than { $margin }
   *[not-shown] a worsening of { $margin } is not excluded
}
comparison-claim-over-points = { $claim ->
    [worse-beyond] worse by more than { $margin } at one point or more
    [less-than-margin] changed by less than { $margin } either way at every point
    [not-worse] not worse by more than { $margin } at any point
   *[not-shown] a worsening of { $margin } at some point is not excluded
}
comparison-and-claim = { $shown }; { $claim }
comparison-on-the-mean = on the mean of the points, { $shown }
comparison-on-the-mean-and-claim = on the mean of the points, { $shown }; { $claim }

comparison-method = Method
comparison-method-sign = Differences are after − before; a greater value is worse.
comparison-method-separate = At a point: Welch's interval; beside it the Hodges–Lehmann shift and the exact rank sum test.
comparison-method-paired = Hits are paired by their number: the paired t interval; beside it the Hodges–Lehmann centre and the exact signed rank test.
comparison-method-pooled = Over all points: the common effect in the additive model with the point as block; exact p from exchanging the versions within each point (seed { $seed }).
comparison-method-intervals = Each interval has a confidence of { $percent } % for its one difference. What is called shown, and every statement about a margin, allows for all questions of its kind together (Holm, over measures and points). “Not worse at any test point” needs every single one, so it needs no such correction. A margin must be fixed before the hits are made.

## How many hits are needed

design-asked = Hits of each version that show “not worse by the margin” with a probability of { $power_percent } %, if the versions do not differ
design-terms = (each one-sided claim wrong in at most { $wrong_percent } % of cases; spread of the pilot at { $care_percent } % confidence; no allowance for other questions).
design-no-answer = no answer: { $why }
design-spread = spread of the pilot { $spread } { $unit } ({ $freedom } degrees of freedom); planned with { $planned } { $unit }
design-one-point = at one test point alone
design-pooled = at each of { $points ->
    [one] 1 test point
   *[other] { $points } test points
}, pooled
design-answer = { $place }: { $answer }
design-hits = { $hits ->
    [one] 1 hit
   *[other] { $hits } hits
} a version (power { FIXED($power_percent, digits: 0) } %)
design-power = { $hits } hits { FIXED($power_percent, digits: 0) } %
design-powers = power at one test point: { $powers }
