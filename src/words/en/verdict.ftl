# Verdicts, the reasons for them and what stands beside them.

verdict-within = within the limit
verdict-over = over the limit
verdict-undecided = undecided

lean-within = within
lean-over = over

decision-rule-simple = simple acceptance: the measured value is compared with the limit
decision-rule-guarded = { $of_code ->
    [standard] guarded acceptance: guard band of { $factor } u (standard uncertainty) on both sides of the limit
   *[other] { $factor ->
        [1] guarded acceptance: guard band of U (expanded uncertainty) on both sides of the limit
       *[other] guarded acceptance: guard band of { $factor } U (expanded uncertainty) on both sides of the limit
    }
}

reason-not-current = not current: { $not_current }
reason-not-tested = not tested
reason-hits-missing = { $required } hits required; { $found } recorded
reason-no-value = { $log }: { $unmeasured }
reason-lower-bound = { $log }: lower bound only. { $limitation }
reason-either-way = { $log }: uncertain either way. { $limitation }
reason-over-anyway = over the limit even at the least that is possible: { FIXED($at_least, $decimals) } { $unit }
reason-no-uncertainty = the decision rule requires an uncertainty, and there is none
reason-uncertainty-incomplete = the decision rule requires the whole uncertainty; missing: { $components }
reason-no-limit = { $no_limit }
reason-in-guard-band = { $lean_code ->
    [within] in the guard band of { SIGNIFICANT($width, digits: 3) } { $unit }, on the side of within
   *[other] in the guard band of { SIGNIFICANT($width, digits: 3) } { $unit }, on the side of over
}

not-current-calibration = calibration of the gauge does not cover the test on { $tested_on }: { $uncovered }
not-current-changed-after = { $words ->
    [none] { $event } on { $changed_on }, after the test on { $tested_on }
   *[other] { $event } on { $changed_on } ({ $words }), after the test on { $tested_on }
}
    .help = Test the gate again.
not-current-order-not-stated = { $words ->
    [none] { $event } on { $changed_on }, the day of the test; not stated whether before or after it
   *[other] { $event } ({ $words }) on { $changed_on }, the day of the test; not stated whether before or after it
}
    .help = Add order = "before-the-test" or "after-the-test" to the event in the gate file.

remark-hit-over = hit { $hit } ({ $log }) of { FIXED($value, $decimals) } { $unit } is over the limit by itself
remark-odd-one = hit { $hit } ({ $log }) of { FIXED($value, $decimals) } { $unit } is a possible outlier: { SIGNIFICANT($distance, digits: 3) } { $unit } from the mean of the others (p < { $chance_below }); not excluded
remark-at-limit = exactly at the limit of { $limit } { $unit }
remark-mean-assessed = the mean is assessed; greatest { FIXED($greatest, $decimals) } { $unit }, spread { SIGNIFICANT($spread, digits: 3) } { $unit }

open-nothing-assessed = nothing assessed
open-findings-undecided = { $findings ->
    [one] { $findings } finding
   *[other] { $findings } findings
} undecided
open-points-incomplete = { $points ->
    [one] { $points } required test point
   *[other] { $points } required test points
} without all hits
open-point-not-assessed = { $test_point }: required and not assessed: { $no_limit }
open-hazard-not-tested = { $hazard }: declared and not tested: no test point is prescribed or chosen ([[points]])
open-hits-unaccounted = { $test_point }: { $hits_count ->
    [one] hit { $hits } without a log
   *[other] hits { $hits } without a log
}
open-files-not-placed = { $files ->
    [one] { $files } file that may be a log has no place
   *[other] { $files } files that may be logs have no place
}
open-plan-open = { $no_plan }
