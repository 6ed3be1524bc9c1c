# relent, English

## The plan of a visit

plan-sheet-sentence = { $gate }: { $hits ->
    [one] 1 hit
   *[other] { $hits } hits
} at { $points ->
    [one] 1 test point
   *[other] { $points } test points
} (scheme “{ $scheme }”, { $profile }); { $missing } to do.
plan-sheet-source = Source of the scheme: { $source }.
plan-sheet-tab = { $gate } · test points
plan-sheet-title = Test points of { $gate }
plan-sheet-drawing = { $points ->
    [one] 1 test point
   *[other] { $points } test points
}, numbered as in the table below.
plan-sheet-caption = Seen from the front with the leaf closing to the right; the gate may be the mirror image. Dashed squares: to be tested.
plan-sheet-column-number = no
plan-sheet-column-gap = gap, mm
plan-sheet-column-height = height, mm
plan-sheet-column-from-left = from left, mm
plan-sheet-column-hits = hits
plan-sheet-column-why = reason
plan-sheet-column-where = place and reason
plan-sheet-column-hit = hit { $hit }, N
plan-sheet-column-save-as = save as
plan-sheet-there = recorded
plan-sheet-all-there = Every required hit has a log of its name; `relent assess` reads them.
plan-sheet-save-as = Save each hit in a file of its own, the first as { $first }; --names lists all { $names }.
plan-sheet-no-pattern = The gate file has no pattern that names all of these hits: write [logs] names with {"{hazard}"} and {"{repeat}"} in it, or list the logs one by one.
plan-sheet-note = Note: { $note }.
plan-sheet-notes = Left out or moved
plan-sheet-hazards = Hazards that a force test does not cover: assess each by other means
plan-sheet-column-hazard = hazard
plan-sheet-column-instead = what to do instead
plan-sheet-column-found = finding
plan-sheet-site = On site
plan-sheet-site-time = date and time
plan-sheet-site-tester = tested by
plan-sheet-site-gauge = gauge, serial number, calibration due
plan-sheet-site-support = extension, support and angle of the gauge
plan-sheet-site-weather = temperature, wind
plan-sheet-site-supply = supply voltage or battery
plan-sheet-site-drive = drive, firmware, settings as found
plan-sheet-site-changes = changes made during the visit
plan-sheet-own-notes = Notes

## A pull by hand

pull-sheet-force = { $newtons } N ({ $kilograms } kgf)
pull-sheet-outcome-unrated = Greatest force { $worst }: undecided because the rating of the drive is not known.
pull-sheet-outcome = Greatest force { $worst }, rating { $rating }, margin { $margin }: { $verdict ->
    [within] within the rating.
    [over] over the rating.
   *[undecided] undecided because { $reasons }.
}
pull-sheet-tab = { $file } · pull by hand
pull-sheet-title = Force to move the leaf by hand
pull-sheet-break-away = break-away
pull-sheet-steady = steady
pull-sheet-greatest = greatest after the start
pull-sheet-pulled = pulled
pull-sheet-rating = rating
pull-sheet-rolling = rolling and slope
pull-sheet-at = { $force }, at { $at } { $unit }
pull-sheet-median = { $force } (median along the travel)
pull-sheet-travel = from { $from } to { $to } { $unit }; the first { $start } { $unit } count as the start
pull-sheet-below = below { $force }: { $source }
pull-sheet-model = { $force } for { $mass_kg } kg, μ { $friction }, slope { $slope_percent } %; the steady force corresponds to μ { $seen }
pull-sheet-binds = { $places ->
    [0] Binds nowhere (no force above { $above } times the steady force)
    [one] Binds at one place (above { $above } times the steady force)
   *[other] Binds at { $places } places (above { $above } times the steady force)
}
pull-sheet-bind = { $from } to { $to } { $unit }: up to { $force }
pull-sheet-caption = { $places ->
    [0] The leaf binds nowhere.
   *[other] Shaded: where the leaf binds.
}
pull-sheet-doubt = The true forces may be greater: { $doubt }.
pull-sheet-note = Forces as logged, not zeroed: check that the gauge reads 0 unloaded. Before the pull, release the drive and isolate its power; keep out of the path of the leaf.
pull-sheet-plot = Force along the travel
pull-sheet-axis-force = force, N
pull-sheet-axis-travel = travel, mm
pull-sheet-axis-time = time, s
pull-sheet-label-steady = steady { $force_n } N
pull-sheet-label-rating = rating { $force_n } N
pull-sheet-label-break-away = break-away { $force_n } N
