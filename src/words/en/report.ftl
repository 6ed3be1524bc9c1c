# The report of an assessment and its drawings.

## How a test point or a finding stands

state-within = within the limit
state-over = over the limit
state-undecided = undecided
state-not-tested = not tested

report-value-none = no value
report-limit-none = no limit
report-reason-none = no value to assess
report-value-and-limit = { $measure } { $value } (limit { $limit } { $unit })

## Test points

report-view = { $direction }, { $hazard }
report-point = gap { $gap_mm } mm, height { $height_mm } mm
report-point-across = gap { $gap_mm } mm, { $place_mm } mm from the left

## The sentence at the top

report-subject = { $gate }, tested on { $date }, assessed against { $profile }:
report-subject-undated = { $gate }, date of test not stated, assessed against { $profile }:
report-own-limits = { $base ->
    [none] own limits ({ $name })
   *[other] { $changes ->
        [one] own limits based on { $base } ({ $changes } value changed: { $values })
       *[other] own limits based on { $base } ({ $changes } values changed: { $values })
    }
}
report-chosen-points = { $points ->
    [one] { $limits }, at the { $points } test point chosen by the tester
   *[other] { $limits }, at the { $points } test points chosen by the tester
}
report-outcome-over = over the limit
report-outcome-undecided = undecided
report-outcome-within = within the limits assessed
report-count = { $count } { $state }
report-counts = { $points ->
    [0] No test points.
    [one] 1 test point: { $states }.
   *[other] { $points } test points: { $states }.
}

## Cautions

caution-standing = These readings show the force of the leaf on a gauge at the points listed. They do not prove that the gate is free of hazards: the hazards that a force test does not cover are listed at the end. Local codes and licensed practice take precedence.
caution-while-testing = These readings show the force of the leaf on a gauge at the points listed. They do not prove that the gate is free of hazards: the report lists the hazards that a force test does not cover. Local codes and licensed practice take precedence. Testing a moving gate is dangerous: work in pairs, keep everyone else away, and hold the gauge with a fixed support.
caution-precedence = Local codes, the manufacturer's instructions and licensed practice take precedence over these results.
caution-testing = Testing a moving gate is dangerous: work in pairs, keep everyone else away, and hold the gauge with a fixed support, never by hand and never with your body in the path of the leaf.
caution-isolate = Isolate the power supply and secure the leaf before you set up, move the gauge or work on the drive.
caution-sensitivity = Check the mechanics before you raise the force or lower the sensitivity to stop nuisance reversals.
caution-changes = A repair, a new part, new firmware or a changed setting invalidates these results.

report-until-corrected = Until this is corrected, keep people away from the moving leaf or take the gate out of service.

## The frame of every page

report-made-by = Made by relent { $version }.
report-digest-of = SHA-256 of { $file }:

## Drawings: the opening and its test points

report-key-filled = Filled from below: share of the limit.
report-overview = { $view }: whole opening, to scale
report-dimensions = dimensions in mm
report-detail = { $view }: detail A, with values
report-detail-name = Detail A
report-opposing-edge = opposing edge
report-obstacle = obstacle
report-scales = mm; gaps enlarged { $ratio } × relative to heights
report-scales-across = mm; gaps enlarged { $ratio } × relative to distances from the left
report-no-opening = Whole opening not drawn: the gate file states neither the clear opening nor the width of the leaf.
report-no-height = Whole opening not drawn: the gate file does not state the height of the leaf.
report-point-state = Gap { $gap_mm } mm, { $place_mm } mm: { $state }.
report-point-value = Gap { $gap_mm } mm, { $place_mm } mm: { $value }, { $state }.

## Drawings: shares and hits

report-share = Share of the limit
report-grid = { $view }: hits at all points, same axes
report-gap = gap { $gap_mm } mm
report-picture = each picture: 0 to { $end_ms } ms, 0 to { $top_n } N
report-whole-record = N · whole record
report-enlarged = N · hit enlarged
report-ms-after-contact = ms after contact
report-s-after-contact = s after contact
report-above-axis = { $limit } (above this axis)
report-static-level = static level { $level }
report-peak-limit = peak limit { $limit }
report-static-limit = static limit { $limit }
report-residual-limit = residual limit { $limit }
report-hit = hit { $repeat }
report-hit-value = hit { $repeat }: { $value }
report-mean = mean of { $hits }: { $value }
report-finding = { $measure } { $value }, limit { $limit } { $unit }: { $state }

# What is marked on a curve.
mark-contact = contact
mark-peak = peak { $force }
mark-peak-after = peak { $force } after { $after }
mark-flat-top = flat top: may be higher
mark-stop = stop
mark-stop-after = stop after { $after }
mark-below-level = below { $level } for good after { $after }
mark-reversal = reversal after { $after }
mark-release = release after { $after }
mark-starts-in-contact = record starts in contact
mark-ends-early = record ends here: too early
mark-not-released = record ends here: not released
mark-samples-missing = samples missing here
mark-of-hit = hit { $repeat }: { $event }

## The page

report-title = { $gate } · force test
report-heading = Force test of { $gate }
report-contents = Contents
report-section-owner = For the owner
report-section-points = Test points
report-section-next = What to do next
report-section-findings = Findings
report-section-hits = Hits at each test point
report-section-limitations = Limitations and uncertainty
report-section-limits = Limits and their sources
report-section-gate = Gate, drive, gauge and visit
report-section-readiness = Checks before the test
report-section-handover = Handover
report-section-hazards = Other hazards, cautions and log files
report-sources-vary = Not every limit was read in the standard itself. See

## Test points

report-no-points = No test point is required and none was tested.
report-seen-from = Seen from the front with the leaf closing to the right; the gate may be the mirror image.

## What to do next

report-nothing-assessed-by = Nothing was assessed: no limit of { $profile } applies to a hit that was found.
report-all-within = These results require no change. Keep the settings. Test again when the next visit is due, and at once after a repair, a new part, new firmware or a changed setting.
report-inspect-hazards = A force test does not cover the hazards listed at the end: inspect them on the gate.
report-order-of-changes = Change one thing at a time, in this order: mechanics, speed, slow-down zone, an edge with more travel, and the sensitivity of the drive last. Then test every point again: a change invalidates earlier results.
report-undecided-means = The records show neither that the limit was kept nor that it was exceeded. Remove the cause and test these points again.
report-undecided-because = { $values } – undecided: { $reasons }.
report-missing = These hits are required and were not found. No point is inferred from another.
report-missing-hits = { $point }: { $found } of { $wanted } hits
report-no-limit = Tested, but without a limit
report-more-points-unknown = It is not known whether more test points are required: { $why }. Complete the gate file.
report-points-not-prescribed = No test points are prescribed: { $why }. Only the points of the logs are listed.
report-points-unknown = The required test points are not known: { $why }. Complete the gate file.
report-no-test-point = Log without a test point
report-at-point = { $view }, { $point }
report-over-by = { $point }: { $value }, limit { $limit } { $unit }

# What went wrong, by measure, and what to look at first: common practice, no source.
failed-peak = The leaf hits too hard
    .help = The peak force depends on the mass and speed of the leaf and on what yields between leaf and person. Check whether the leaf binds, jams or runs downhill. Then lower the speed before this place or start the slow-down earlier. Then fit an edge with more travel.
failed-mean = The hit is too strong on average
    .help = { failed-peak.help }
failed-energy = The hit carries too much energy
    .help = { failed-peak.help }
failed-period = The leaf pushes too hard for too long
    .help = The drive detects the hit too late or takes too long to stop and reverse. Check the mechanics and the brake, then fit an edge that signals earlier, then check the stop and reversal settings of the drive.
failed-reversal = The leaf reverses too late
    .help = { failed-period.help }
failed-travel = The leaf travels too far after the hit
    .help = { failed-period.help }
failed-static = The leaf keeps pushing after the hit
    .help = The drive continues to push after the peak. Check whether it stops and reverses at all. Then check its force setting near this place, and whether the leaf binds, which calls for a higher force setting.
failed-residual = Force remains at the end
    .help = A person would remain trapped. First check whether the zero of the gauge drifted: a drifting zero looks the same. Then check whether the leaf moves clear after it has reversed.
failed-other = { $measure } over the limit
    .help = See the curve of this point below.

## Findings

report-decision-rule = Decision rule, chosen before the test: { $rule }.
report-reading-findings = In each bar, the vertical line is the limit and the whisker is the value ± its expanded uncertainty U. “Within” is the probability that the true value is within the limit. Every hit is listed; hits over the limit by themselves are bold.
report-nothing-assessed = Nothing was assessed.
report-findings-of = Findings: { $measure }
report-findings-in = Findings: { $measure } in { $unit }
report-column-gap = gap, mm
report-column-height = height, mm
report-column-across = from left, mm
report-column-state = state
report-column-value = value, { $unit }
report-column-limit = limit, { $unit }
report-column-share = share of the limit, %
report-column-within = within, %
report-column-hits = hits, { $unit }
report-finding-group = { $limit } · { $assessed } · source of the limit: { $source }
report-finding-group-shown = { $limit } · { $assessed } · source of the limit: { $source } · for information only
report-share-of-limit = { $percent } % of the limit, { $state }
report-two-readings = Two readings, two outcomes
report-two-readings-why = Sources read these quantities in two ways, which lead to different outcomes here. The reading of the profile decides.
report-two-readings-of = { $quantity }: { $decides } decides: { $decided }; { $shown } is for information: { $outcome }.
report-quantity-at = { $quantity } at { $point }

## Hits

report-grid-caption = All points on the same axes. Grey: over the peak limit. Bold line: the hit nearest to the limit.
report-no-hits = No hit was found.
report-measured-at = Measured values: { $point }
report-column-hit = hit
report-column-measure = { $measure }, { $unit }
report-column-leaf = the leaf
report-short-peak = peak
report-short-peak-at = peak after
report-short-above-static = above static level
report-short-dynamic-period = dynamic period
report-short-static = static
report-short-residual = residual
report-short-stop = stop
report-short-reversal = reversal
report-short-impulse = impulse
report-short-energy = energy
report-short-approach = approach
report-unread = Logs without a measurement
report-unread-means = A log that could not be read is not a hit: its test point lacks that hit.
report-unread-log = { $file } ({ $point }, hit { $repeat }): { $why }

## Limitations and uncertainty

report-low-readings = A record that reads low can show that a limit was exceeded. It can never show that the limit was kept.
report-records = The records
report-clear-records = { $clear } of { $records } records have no limitation.
report-lower-bounds = lower bound only: { $measures }
report-either-way = uncertain either way: { $measures }
report-notices = Notes on reading the logs
report-and-more = { $first } and { $more } more
report-uncertainty = Uncertainty
report-no-uncertainty = No uncertainty can be stated for any value.
report-uncertainty-means = Standard uncertainty u of each component, combined by root sum of squares (JCGM 100, GUM). Expanded uncertainty U = k · u, coverage probability 95 %.
report-nearest-only = Of each measure, the value nearest to its limit; the machine-readable record holds all others.
report-uncertainty-of = Uncertainty: { $measure }
report-uncertainty-in = { $measure }: standard uncertainty u in { $unit }
report-column-point = test point
report-column-combined = combined u
report-left-out = not included: { $components }

## Limits

report-unconfirmed = Not every value that decides was read in the document or confirmed by an owner of it. If you own the document, confirm or correct the values.
report-limits = Limits
report-levels = Levels and periods
report-limits-caption = Limits that apply here
report-levels-caption = Levels, periods and requirements of the profile
report-column-limit-name = limit
report-column-measured = measure
report-column-name = name
report-column-number = value
report-column-source = source
report-column-clause = clause, notes
report-for-information = for information only
report-limit-at-most = at most { $value } { $unit }
report-limit-below = below { $value } { $unit }
report-confirmed = Confirmed on { $date } from { $document }.
report-corrected = Confirmed on { $date } from { $document }; corrected from { $before } { $unit }.
report-means-confirmed = confirmed by an owner of the document
report-means-read = read in a stored text of the document or of public law
report-means-second-hand = from a page, guide or paper that describes the document
report-means-memory = recalled, not looked up
report-means-chosen = no published value is known: chosen by this project
report-disagreements = Where sources disagree
report-here = Here: { $here }
report-not-shown = Required by the rule, not shown by a force log

## Gate, drive, gauge and visit

report-gate = Gate
report-drive = Drive
report-gauge = Gauge
report-visit = Visit
report-not-stated = Not stated in the gate file.
report-gate-name = name
report-gate-place = place
report-gate-motion = motion
report-gate-leaf-mass = leaf mass
report-gate-leaf-height = leaf height
report-gate-leaf-width = leaf width
report-gate-opening = clear opening
report-gate-clearance = ground clearance
report-gate-closes-against = closes against
report-gate-edge = edge
report-gate-edge-travel = travel of the edge
report-drive-model = model
report-drive-firmware = firmware
report-drive-rated = rated for
report-drive-closing = closing speed
report-drive-opening = opening speed
report-drive-settings = settings
report-gauge-serial = serial number
report-gauge-spring = spring rate
report-gauge-capacity = capacity
report-gauge-face = face
report-gauge-accuracy = accuracy
report-gauge-resolution = resolution
report-gauge-calibrated = calibrated on
report-gauge-due = calibration valid until
report-gauge-zero = zero
report-gauge-certificate = certificate
report-gauge-percent = { $percent } % of reading
report-gauge-zeroes = set by the gauge before each hit
report-gauge-keeps-zero = not set by the gauge
report-gauge-certified = { $number }, k = { $factor }
report-gauge-certified-by = { $number }, { $laboratory }, k = { $factor }
report-visit-date = date
report-visit-kind = kind
report-visit-tested-by = tested by
report-visit-temperature = temperature
report-visit-wind = wind
report-visit-supply = supply
report-visit-notes = notes
report-open = Open items of the gate file

## Other hazards, cautions and files

report-hazards = Hazards that a force test does not cover
report-hazards-means = No force was measured for these. Inspect each on the gate.
report-gaps = Gaps that do not crush a part of the body:
report-cautions = Cautions
report-files = Files
report-column-file = file
report-hit-at = { $point }, hit { $repeat }
report-no-logs = No log was read.

## Uncertainty budgets as text

report-budget-at = { $limit } at { $point }: { $value }
report-budget-of = { $limit }: { $value }
report-budget-left-out = not included: { $component }; the uncertainty is greater than stated
report-budget-combined = combined u { $combined } { $unit }, ν { $dof }, k { $k } for 95 %, U { $expanded } { $unit }; best estimate: value { $correction } { $unit }

## How the logs were read

report-reading = How each log was read
report-column-force = force
report-column-time = time
report-column-rate = rate, Hz
report-column-decimal-mark = decimal mark
report-column-answers = entered by hand
report-column-zero = zero
report-column-filter = filter
report-push-negative = a push is negative in the log
report-no-answers = nothing
report-answers-of-recipe = { $answers } (recipe { $recipe })
report-no-filter = no filter
report-filter-class = channel frequency class { $class }
report-filter-butterworth = low-pass { $corner_hz } Hz, order { $order }

force-column = { $column }, in { $unit }

answered-file = file { $file } of the archive
answered-force = force in column { $column }
answered-force-unit = force in { $unit }
answered-scale = force multiplied by { $scale }
answered-time = time in column { $column }
answered-time-unit = time in { $unit }
answered-rate = rate { $rate_hz } Hz
answered-run = run { $run }
answered-all-runs = all rows as one run
answered-push = { $sign_code ->
    [negative] a push is negative
   *[positive] a push is positive
}
answered-decimal-mark = decimal mark { $mark }
answered-time-decimal-mark = decimal mark of the time { $mark }
answered-delimiter = delimiter { $mark }

zero-line = { $from_code ->
    [quiet-stretch] { SIGNIFICANT($n, digits: 3) } N: median of { $samples } samples before contact
    [declared] 0 N: set by the gauge
   *[lowest-stretch] { SIGNIFICANT($n, digits: 3) } N: lowest level of the record
}
